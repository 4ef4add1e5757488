// Lists functions longer than a screen, or with more branches than can be followed:
// node support/long_functions.mjs 80 20 src
// A branch is each if (also in an expression), loop, case, catch, and each && || ?? between two values. A function with
// a body of its own counts by itself.
import { readFileSync } from 'node:fs'
import { parseSync } from 'vite'
import { files } from './stray_sentences.mjs'

const BRANCHES = new Set([
  'IfStatement', 'ConditionalExpression', 'ForStatement', 'ForOfStatement', 'ForInStatement', 'WhileStatement',
  'DoWhileStatement', 'CatchClause', 'SwitchCase', 'LogicalExpression',
])

const [mostLines, mostBranches, ...folders] = process.argv.slice(2)
for (const path of folders.flatMap(files)) {
  const source = readFileSync(path, 'utf8')
  const lineOf = (offset) => source.slice(0, offset).split('\n').length
  const walk = (node, name, counted) => {
    if (!node || typeof node !== 'object') return
    if (Array.isArray(node)) return node.forEach((child) => walk(child, name, counted))
    const own = node.id?.name ?? node.key?.name ?? name
    const isFunction = /Function/.test(node.type) && node.body && node.start !== undefined
    const inside = isFunction && /Body|Block/.test(node.body.type) ? { branches: 0 } : counted
    if (BRANCHES.has(node.type)) inside.branches += 1
    for (const [key, child] of Object.entries(node)) if (key !== 'type' && child && typeof child === 'object') walk(child, own, inside)
    if (!isFunction) return
    const lines = lineOf(node.end) - lineOf(node.start) + 1
    const where = `${path}:${lineOf(node.start)}: ${own}`
    if (lines > Number(mostLines)) console.log(`${where}, ${lines} lines`)
    if (inside !== counted && inside.branches > Number(mostBranches)) console.log(`${where}, ${inside.branches} branches`)
  }
  walk(parseSync(path, source).program, '', { branches: 0 })
}
