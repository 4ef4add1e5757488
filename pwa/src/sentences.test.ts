// Every sentence stands in the catalogue, is used, and is given what it needs.
import { readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { parseSync } from 'vite'
import { describe, expect, it } from 'vitest'
import english from '../../server/witnessmark/trade/data/sentences/en.json'
import { files, strays } from '../support/stray_sentences.mjs'

/** Which folders take their sentences from which section of the catalogue. */
const ROOMS: { section: keyof typeof english; folders: string[] }[] = [
  { section: 'bay', folders: ['bay'] },
  { section: 'parts', folders: ['parts'] },
  { section: 'office', folders: ['office'] },
  { section: 'phone', folders: ['capture', 'store', 'sync', 'speech', 'worker'] },
]

type Wording = string | Record<string, string>

const sourceFiles = (folders: string[]) => folders.flatMap((folder) => files(fileURLToPath(new URL(`./${folder}`, import.meta.url))))

interface Call {
  key: string
  /** Names that are filled in; null where some come out of an object. */
  given: string[] | null
}

/** Every `say('key', { … })` of a file. */
function callsIn(path: string): Call[] {
  const calls: Call[] = []
  const walk = (node: any): void => {
    if (!node || typeof node !== 'object') return
    if (Array.isArray(node)) return node.forEach(walk)
    const [first, second] = node.arguments ?? []
    if (node.type === 'CallExpression' && node.callee.name === 'say' && typeof first?.value === 'string') {
      const properties: any[] = second?.properties ?? []
      const open = (second && second.type !== 'ObjectExpression') || properties.some(({ type }) => type === 'SpreadElement')
      calls.push({ key: first.value, given: open ? null : properties.map(({ key }) => key.name ?? key.value) })
    }
    for (const [name, child] of Object.entries(node)) if (name !== 'type') walk(child)
  }
  walk(parseSync(path, readFileSync(path, 'utf8')).program)
  return calls
}

/** What a wording has to be given: its slots, and the count that chooses its form. */
function needs(wording: Wording): string[] {
  const forms = typeof wording === 'string' ? [wording] : Object.values(wording)
  const slots = forms.flatMap((form) => [...form.matchAll(/\{([a-z0-9_]+)\}/g)].map(([, name]) => name!))
  return [...new Set(typeof wording === 'string' ? slots : ['count', ...slots])]
}

describe.each(ROOMS)('sentences of $section', ({ section, folders }) => {
  const paths = sourceFiles(folders)
  const sentences = english[section] as unknown as Record<string, Wording>

  it('stand nowhere in the code', () => {
    const left = paths.flatMap((path) => strays(path).map(({ line, text }) => `${path}:${line}: ${text}`))
    expect(left).toEqual([])
  })

  it('are all used', () => {
    const code = paths.map((path) => readFileSync(path, 'utf8')).join('\n')
    const unused = Object.keys(sentences).filter((key) => !code.includes(`'${key}'`) && !code.includes(`"${key}"`))
    expect(unused).toEqual([])
  })

  it('are given all that they need', () => {
    const calls = paths.flatMap(callsIn)
    expect(calls.length).toBeGreaterThan(10)
    const lacking = calls.flatMap(({ key, given }) => {
      const missing = given ? needs(sentences[key] ?? '').filter((name) => !given.includes(name)) : []
      return key in sentences ? missing.map((name) => `${key} needs {${name}}`) : [`${key} is not in the catalogue`]
    })
    expect(lacking).toEqual([])
  })

  it('have a form for one and for others wherever they count', () => {
    const counted = Object.values(sentences).filter((wording) => typeof wording !== 'string')
    for (const wording of counted) expect(Object.keys(wording).sort()).toEqual(['one', 'other'])
  })
})

it('no sentence of the trade stands in the code; what people say to a recogniser is data of its own', () => {
  const paths = sourceFiles(['trade']).filter((path) => !path.includes('/trade/spoken/'))
  expect(paths.length).toBeGreaterThan(30)
  expect(paths.flatMap((path) => strays(path).map(({ line, text }) => `${path}:${line}: ${text}`))).toEqual([])
})
