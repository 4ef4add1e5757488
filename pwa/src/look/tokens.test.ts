import { describe, expect, it } from 'vitest'
import { readdirSync, readFileSync } from 'node:fs'

const files = readdirSync('src', { recursive: true, encoding: 'utf8' })
  .filter((name) => name.endsWith('.css'))
  .sort()
const texts = new Map(files.map((name) => [name, readFileSync(`src/${name}`, 'utf8').replace(/\/\*[\s\S]*?\*\//g, '')]))
const defined = new Set([...texts.get('look/tokens.css')!.matchAll(/^\s*(--[\w-]+):/gm)].map((m) => m[1]!))

const SPACE = /^(?:margin|padding|gap|row-gap|column-gap|scroll-margin|scroll-padding)(?:-|$)/
const LETTERS = /^font(?:-size)?$/
const BORDER = /^(?:border|outline)(?!-offset|-spacing)/
const RAW = /(?<![\w-])-?\d*\.?\d+(?:px|rem|pt|ch)\b/
const RAW_LETTERS = /(?<![\w-])-?\d*\.?\d+(?:px|rem|pt|ch|em)\b/
const COLOUR = /#[0-9a-f]{3,8}\b|\b(?:rgb|hsl|oklch)\(/i

/** What may name its own lengths or colours, and why. */
const EXCEPTIONS: { file: string; declaration: RegExp; why: string }[] = [
  { file: 'bay/camera/camera.css', declaration: /^border: 10px solid/, why: 'the shutter: a broad frame that flashes once' },
  { file: 'office/spoken/sound.css', declaration: /^border(?:-top)?: [79]px/, why: 'a triangle made of borders points at a time' },
  { file: 'office/job/figures/print_frame.css', declaration: /#[0-9a-f]{3,6}/, why: 'printed on white in black, in either theme' },
  { file: 'office/job/figures/print_frame.css', declaration: /^font-size: 11px/, why: 'on paper a rem is a letter of print' },
  { file: 'office/people/people.css', declaration: /^background: #ffffff/, why: 'the square a phone reads is dark on white' },
]

function declarations(name: string): { property: string; value: string; whole: string }[] {
  const matches = texts.get(name)!.matchAll(/(?:^|[;{])\s*(--[\w-]+|[a-z-]+):\s*([^;{}]+);/g)
  return [...matches].map((m) => ({ property: m[1]!, value: m[2]!.trim(), whole: `${m[1]}: ${m[2]!.trim()}` }))
}

const excused = (file: string, whole: string) => EXCEPTIONS.some((exception) => exception.file === file && exception.declaration.test(whole))

describe.each(files.filter((name) => name !== 'look/tokens.css'))('%s', (name) => {
  it('takes spaces, letter sizes, line widths and colours from the tokens', () => {
    const raw = declarations(name).filter(({ property, value, whole }) => {
      const wrong =
        (SPACE.test(property) && RAW.test(value)) ||
        (LETTERS.test(property) && RAW_LETTERS.test(value)) ||
        (BORDER.test(property) && RAW.test(value)) ||
        COLOUR.test(value)
      return wrong && !excused(name, whole)
    })
    expect(raw.map((declaration) => declaration.whole)).toEqual([])
  })

  it('uses no token that is not there', () => {
    const own = new Set([...texts.values()].flatMap((text) => [...text.matchAll(/(--[\w-]+):/g)].map((m) => m[1]!)))
    const used = [...texts.get(name)!.matchAll(/var\((--[\w-]+)(?=\))/g)].map((m) => m[1]!)
    const inMarkup = new Set(['--share', '--places'])
    expect(used.filter((token) => !defined.has(token) && !own.has(token) && !inMarkup.has(token))).toEqual([])
  })
})

it('every token is used, and every exception still stands somewhere', () => {
  const all = [...texts.values()].join('\n')
  expect([...defined].filter((token) => !all.includes(`var(${token}`))).toEqual([])
  const idle = EXCEPTIONS.filter((exception) => !declarations(exception.file).some(({ whole }) => exception.declaration.test(whole)))
  expect(idle).toEqual([])
})

describe('classes', () => {
  const code = readdirSync('src', { recursive: true, encoding: 'utf8' }).filter((name) => /\.tsx?$/.test(name) && !name.includes('.test.'))
  const markup = code.map((name) => readFileSync(`src/${name}`, 'utf8')).join('\n')
  const words = new Set(markup.match(/[\w-]+/g))
  /** `leaf-${stand}` names every class that begins so. */
  const beginnings = [...new Set([...markup.matchAll(/([a-z][\w-]*-)\$\{/g)].map((m) => m[1]!))]
  const named = (className: string) => words.has(className) || beginnings.some((beginning) => className.startsWith(beginning))
  const classes = (name: string) => [...new Set([...texts.get(name)!.matchAll(/\.([a-z][\w-]*)(?=[^{}]*\{)/gi)].map((m) => m[1]!))]

  it.each(files)('of %s stand in markup', (name) => {
    expect(classes(name).filter((className) => !named(className))).toEqual([])
  })
})
