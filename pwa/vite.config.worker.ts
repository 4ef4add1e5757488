// Builds the phone's service worker after its app, with the list of files to keep written into it.
import { createHash } from 'node:crypto'
import { readdirSync, readFileSync } from 'node:fs'
import { join, relative } from 'node:path'
import { defineConfig } from 'vite'
import { here } from './vite.config.shared.ts'

const dist = here('./dist/bay')
const files = readdirSync(dist, { recursive: true, withFileTypes: true })
  .filter((entry) => entry.isFile() && entry.name !== 'sw.js')
  .map((entry) => relative(dist, join(entry.parentPath, entry.name)))
  // Of the speech parts the list alone belongs to the app: by it a phone knows, offline too, whether its parts are this build's.
  .filter((file) => !file.startsWith('speech/') || file === 'speech/parts.json')
  .sort()
const sha256 = (bytes: Buffer | string) => createHash('sha256').update(bytes).digest('hex')
// The page is asked for by the scope's own address, which no server redirects.
const kept = Object.fromEntries(
  files.map((file) => [file === 'index.html' ? '' : file, sha256(readFileSync(join(dist, file)))]),
)

export default defineConfig({
  publicDir: false,
  define: {
    __FILES__: JSON.stringify(kept),
    __BUILD__: JSON.stringify(sha256(JSON.stringify(kept)).slice(0, 12)),
  },
  build: {
    outDir: dist,
    emptyOutDir: false,
    target: 'es2022',
    lib: { entry: here('./src/worker/when.ts'), formats: ['iife'], name: 'worker', fileName: () => 'sw.js' },
  },
})
