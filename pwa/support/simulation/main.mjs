// `node support/simulation/main.mjs`: phones for tests/simulation, over lines of JSON. Bundles the app's own source first.
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath, pathToFileURL } from 'node:url'
import vm from 'node:vm'
import { build } from 'vite'

const here = (name) => fileURLToPath(new URL(name, import.meta.url))

/** One bundle as text. `name` of what it exports; null for a module that stands by itself. */
async function bundled(entry, format, name) {
  const [{ output }] = await build({
    configFile: false, root: here('../..'), logLevel: 'error', publicDir: false,
    oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
    ...(format === 'es' ? { ssr: { noExternal: true } } : {}),
    build: {
      write: false, minify: false, target: 'es2022', modulePreload: false, copyPublicDir: false,
      ...(format === 'es' ? { ssr: here(entry) } : {}),
      rolldownOptions: { input: here(entry), preserveEntrySignatures: 'strict', output: { format, name, codeSplitting: false } },
    },
  }).then((made) => (Array.isArray(made) ? made : [made]))
  return output.find((part) => part.isEntry).code
}

const started = performance.now()
const [page, phones] = await Promise.all([bundled('page.ts', 'iife', 'page'), bundled('phones.ts', 'es')])
const folder = mkdtempSync(join(tmpdir(), 'phones-'))
writeFileSync(join(folder, 'phones.mjs'), phones)
const { serve } = await import(pathToFileURL(join(folder, 'phones.mjs')).href)
rmSync(folder, { recursive: true })
process.stderr.write(process.env.SIMULATION_TIMES ? `bundled in ${Math.round(performance.now() - started)} ms\n` : '')

/** The app as a function of a page's globals; `changes` are texts in it and what stands there instead, to break it on purpose. */
function load(names, changes) {
  let code = page
  for (const [before, after] of changes) {
    if (!code.includes(before)) throw new Error(`the app no longer holds ${before}`)
    code = code.replace(before, () => after)
  }
  return vm.compileFunction(`${code}\n;return page`, names, { filename: 'page.js' })
}

await serve(load)
