// Writes beside every text of a built folder its Brotli form (RFC 7932), which the server sends to browsers that take it.
import { readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { extname, join } from 'node:path'
import { brotliCompressSync, constants } from 'node:zlib'

const TEXTS = new Set(['.html', '.js', '.css', '.svg', '.webmanifest', '.json'])

for (const folder of process.argv.slice(2)) {
  for (const found of readdirSync(folder, { recursive: true, withFileTypes: true })) {
    const path = join(found.parentPath ?? found.path, found.name)
    if (!found.isFile() || !TEXTS.has(extname(path))) continue
    const body = readFileSync(path)
    const params = { [constants.BROTLI_PARAM_QUALITY]: 11, [constants.BROTLI_PARAM_SIZE_HINT]: body.length }
    writeFileSync(`${path}.br`, brotliCompressSync(body, { params }))
  }
}
