// Builds the speech parts beside the phone's app: the worker that hears, the programs and the acoustic model it opens (out
// of node_modules, never kept in the source), and the list of them all. Not part of the app: a phone fetches them when asked.
import { createHash } from 'node:crypto'
import { cpSync, mkdirSync, readFileSync, statSync, writeFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { type Plugin, defineConfig } from 'vite'
import { here } from './vite.config.shared.ts'
import { SPEAKS } from './src/speech/shapes.ts'

const out = here('./dist/bay/speech')
const from = (path: string) => here(`./node_modules/${path}`)
const version = (name: string) => JSON.parse(readFileSync(from(`${name}/package.json`), 'utf8')).version as string

const SCRIPT = 'text/javascript'
const PROGRAM = 'application/wasm'
const BYTES = 'application/octet-stream'
const MODEL = 'soundswallower/model/en-us'

/** Name on the phone, where it comes from ('' = built here), type. The model's own dictionary stays away: ours comes with each grammar. */
const PARTS: [string, string, string][] = [
  ['worker.js', '', SCRIPT],
  ['soundswallower.web.wasm', 'soundswallower/soundswallower.web.wasm', PROGRAM],
  ['rnnoise.wasm', '@jitsi/rnnoise-wasm/dist/rnnoise.wasm', PROGRAM],
  ['en-us/feat_params.json', `${MODEL}/feat_params.json`, 'application/json'],
  ['en-us/noisedict.txt', `${MODEL}/noisedict.txt`, 'text/plain'],
  ['en-us/mdef', `${MODEL}/mdef`, BYTES],
  ['en-us/means', `${MODEL}/means`, BYTES],
  ['en-us/variances', `${MODEL}/variances`, BYTES],
  ['en-us/sendump', `${MODEL}/sendump`, BYTES],
  ['en-us/transition_matrices', `${MODEL}/transition_matrices`, BYTES],
]
/** Lie beside them for whoever asks; a phone does not fetch them. */
const LICENCES: [string, string][] = [
  ['en-us/README.txt', `${MODEL}/README.txt`],
  ['rnnoise-LICENSE.txt', '@jitsi/rnnoise-wasm/LICENSE'],
]

const sha256 = (bytes: Buffer | string) => createHash('sha256').update(bytes).digest('hex')

/**
 * The recogniser's program fetches its own files and, for old browsers, brings in a second Blob by a name that no worker
 * knows. Both are answered by one line: its `fetch` is ours, which looks into what the phone keeps and nowhere else.
 */
const theirFetchIsOurs: Plugin = {
  name: 'their-fetch-is-ours',
  enforce: 'pre',
  transform(code, id) {
    if (!id.endsWith('soundswallower.web.js')) return null
    const ours = `import { kept as fetch } from ${JSON.stringify(here('./src/speech/kept.ts'))};`
    const changes: [string, string][] = [
      ['import { Blob } from "blob-polyfill";', ours],
      // Else the program would be written into the worker as text.
      ['new URL("soundswallower.web.wasm",import.meta.url).href', 'locateFile("soundswallower.web.wasm")'],
    ]
    for (const [theirs, instead] of changes) {
      if (!code.includes(theirs)) this.error(`soundswallower.web.js no longer holds \`${theirs}\`: see what stands there now, and change vite.config.speech.ts.`)
      code = code.replace(theirs, instead)
    }
    return { code, map: null }
  },
}

const layOut: Plugin = {
  name: 'lay-out-the-parts',
  writeBundle() {
    const files = PARTS.map(([name, source, type]) => {
      const to = join(out, name)
      mkdirSync(dirname(to), { recursive: true })
      if (source) cpSync(from(source), to)
      return { name, size: statSync(to).size, sha256: sha256(readFileSync(to)), type }
    })
    for (const [name, source] of LICENCES) cpSync(from(source), join(out, name))
    const hash = sha256(files.map((file) => `${file.sha256}  ${file.name}\n`).join(''))
    writeFileSync(join(out, 'parts.json'), JSON.stringify({ speaks: SPEAKS, hash, files }))
  },
}

export default defineConfig({
  publicDir: false,
  plugins: [theirFetchIsOurs, layOut],
  define: { __BY__: JSON.stringify(`soundswallower ${version('soundswallower')} + rnnoise ${version('@jitsi/rnnoise-wasm')}`) },
  build: {
    outDir: out,
    emptyOutDir: true,
    target: 'es2022',
    modulePreload: false,
    rolldownOptions: {
      input: here('./src/speech/worker.ts'),
      output: { format: 'es', codeSplitting: false, entryFileNames: 'worker.js' },
    },
  },
})
