// Writes beside every text of a built folder, and beside every speech part, its Brotli form (RFC 7932), which the server sends to browsers that take it.
import { readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { extname, join, relative, sep } from 'node:path'
import { brotliCompressSync, constants } from 'node:zlib'

const TEXTS = new Set(['.html', '.js', '.css', '.svg', '.webmanifest', '.json'])
// Programs and models: a wider window, and no more effort than pays (measured: 7.0 MB become 4.0, the highest quality 3.9 in ten times the time).
const PARTS = { quality: 9, window: 24 }
const TEXT = { quality: 11, window: constants.BROTLI_DEFAULT_WINDOW }

for (const folder of process.argv.slice(2)) {
  for (const file of readdirSync(folder, { recursive: true, withFileTypes: true })) {
    const path = join(file.parentPath ?? file.path, file.name)
    const part = relative(folder, path).startsWith(`speech${sep}`)
    if (!file.isFile() || !(part || TEXTS.has(extname(path)))) continue
    const body = readFileSync(path)
    const { quality, window } = part ? PARTS : TEXT
    const params = {
      [constants.BROTLI_PARAM_QUALITY]: quality,
      [constants.BROTLI_PARAM_LGWIN]: window,
      [constants.BROTLI_PARAM_SIZE_HINT]: body.length,
    }
    writeFileSync(`${path}.br`, brotliCompressSync(body, { params }))
  }
}
