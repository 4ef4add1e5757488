// Lists functions longer than a screen: node support/long_functions.mjs 60 src/bay src/parts
import { readFileSync } from 'node:fs'
import { parseSync } from 'vite'
import { files } from './stray_sentences.mjs'

const [most, ...folders] = process.argv.slice(2)
for (const path of folders.flatMap(files)) {
  const source = readFileSync(path, 'utf8')
  const lineOf = (offset) => source.slice(0, offset).split('\n').length
  const walk = (node, name) => {
    if (!node || typeof node !== 'object') return
    if (Array.isArray(node)) return node.forEach((child) => walk(child, name))
    const own = node.id?.name ?? node.key?.name ?? name
    if (/Function/.test(node.type) && node.body && node.start !== undefined) {
      const lines = lineOf(node.end) - lineOf(node.start) + 1
      if (lines > Number(most)) console.log(`${path}:${lineOf(node.start)}: ${own}, ${lines} lines`)
    }
    for (const [key, child] of Object.entries(node)) if (key !== 'type' && child && typeof child === 'object') walk(child, own)
  }
  walk(parseSync(path, source).program, '')
}
