import { describe, expect, it } from 'vitest'
import { readFileSync } from 'node:fs'

/** Relative luminance and contrast as WCAG 2.2 defines them (success criterion 1.4.3). */
function luminance(hex: string): number {
  const parts = [1, 3, 5].map((at) => parseInt(hex.slice(at, at + 2), 16) / 255)
  const [r, g, b] = parts.map((c) => (c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4))
  return 0.2126 * r! + 0.7152 * g! + 0.0722 * b!
}

function contrast(a: string, b: string): number {
  const [low, high] = [luminance(a), luminance(b)].sort((x, y) => x - y)
  return (high! + 0.05) / (low! + 0.05)
}

const css = readFileSync('src/look/tokens.css', 'utf8')

/** Every token that is a colour, by day (0) or by night (1); one written without light-dark() is the same in both. */
function colours(theme: 0 | 1): Record<string, string> {
  const tokens = css.matchAll(/--([\w-]+):\s*(?:light-dark\((#[0-9a-f]{6}),\s*(#[0-9a-f]{6})\)|(#[0-9a-f]{6}));/g)
  return Object.fromEntries([...tokens].map(([, name, day, night, always]) => [name!, always ?? (theme ? night! : day!)]))
}

const light = colours(0)
const dark = colours(1)

describe.each([
  ['light', light],
  ['dark', dark],
])('in the %s theme', (_name, c) => {
  const papers = ['paper', 'paper-raised', 'paper-sunk', 'blue-wash', 'brass-wash']
  it.each(papers)('text is read at 4.5 to 1 on %s', (paper) => {
    expect(contrast(c['ink']!, c[paper]!)).toBeGreaterThanOrEqual(7)
    expect(contrast(c['ink-soft']!, c[paper]!)).toBeGreaterThanOrEqual(4.5)
  })
  it('acts and cautions are read on paper', () => {
    expect(contrast(c['blue']!, c['paper']!)).toBeGreaterThanOrEqual(4.5)
    expect(contrast(c['brass-ink']!, c['paper']!)).toBeGreaterThanOrEqual(4.5)
    expect(contrast(c['brass-ink']!, c['brass-wash']!)).toBeGreaterThanOrEqual(4.5)
  })
  it('the main acts are read at 7 to 1', () => {
    expect(contrast(c['on-blue']!, c['blue']!)).toBeGreaterThanOrEqual(7)
    expect(contrast(c['on-blue']!, c['blue-deep']!)).toBeGreaterThanOrEqual(7)
  })
  it('drawn lines and open rings stand at 3 to 1', () => {
    for (const line of ['line', 'brass', 'blue', 'ink']) {
      expect(contrast(c[line]!, c['paper']!), line).toBeGreaterThanOrEqual(3)
      expect(contrast(c[line]!, c['paper-raised']!), line).toBeGreaterThanOrEqual(3)
    }
  })
})

it('a dark phone and a chosen dark theme are the same dark, for each colour is written once', () => {
  const names = [...css.matchAll(/^\s*--([\w-]+):.*(?:#[0-9a-f]{6}|rgb\()/gm)].map((m) => m[1])
  expect(new Set(names).size).toBe(names.length)
  expect(Object.keys(light).length).toBeGreaterThanOrEqual(16)
  expect(css).toMatch(/:root \{\n  color-scheme: light dark;/)
  expect(css).toMatch(/:root\[data-theme="light"\] \{\n  color-scheme: light;\n\}/)
  expect(css).toMatch(/:root\[data-theme="dark"\] \{\n  color-scheme: dark;\n\}/)
})

it('the bar of the system above the bay has the ground of each theme', () => {
  const page = readFileSync('bay/index.html', 'utf8')
  const bars = [...page.matchAll(/name="theme-color" content="(#[0-9a-f]{6})" data-ground="(\w+)" media="\(prefers-color-scheme: (\w+)\)"/g)]
  expect(bars.map(([, colour, ground, phone]) => [ground, phone, colour])).toEqual([
    ['light', 'light', light['paper']],
    ['dark', 'dark', dark['paper']],
  ])
  const manifest = JSON.parse(readFileSync('public/bay/manifest.webmanifest', 'utf8'))
  expect([manifest.theme_color, manifest.background_color]).toEqual([light['paper'], light['paper']])
})
