// A line of speech cut into tokens: words, figures, units written after figures, number signs. The twin of
// trade/spoken/text.py.

import { UNITS } from '../ground/units.ts'
import table from '../../../../server/witnessmark/trade/data/spoken.json'

/** More than anybody says in one breath; a longer text is talk, and is not read. */
const MOST_LETTERS = 2000
export const MOST_TOKENS = 160

const ALIKE: Record<string, string> = {
  '\u2019': "'", '\u2018': "'", '\u2010': '-', '\u2011': '-', '\u2013': '-', '\u2014': '-', '\u2212': '-',
  '\u201c': '"', '\u201d': '"', '\u2033': '"', '\u2116': '#', '\u00a0': ' ', '\u2009': ' ', '\u202f': ' ',
  '\u2044': '/', '\u00bd': ' 1/2', '\u00bc': ' 1/4', '\u00be': ' 3/4',
  '\u215b': ' 1/8', '\u215c': ' 3/8', '\u215d': ' 5/8', '\u215e': ' 7/8',
}

export type TokenKind =
  | 'word' | 'whole' | 'decimal' | 'fraction' | 'unsure' | 'ordinal' | 'unit' | 'sign' | 'minus' | 'plus' | 'to'

/**
 * `kind`: word, whole, decimal, fraction (figures), unsure (figures that can be read in two ways), ordinal, unit (`text`
 * is its code), sign (number sign), minus, plus, to (15-20). `breaks`: a stop stands before it.
 */
export interface Token {
  kind: TokenKind
  text: string
  breaks: boolean
  raw: string
}

export const FIGURES: TokenKind[] = ['whole', 'decimal', 'fraction', 'unsure']
const SPELLINGS: [string, string][] = Object.entries(UNITS)
  .flatMap(([code, { written }]) => written.map((spelling): [string, string] => [spelling, code]))
  .sort(([a], [b]) => b.length - a.length || (a < b ? -1 : a > b ? 1 : 0))

// Decoders join the words of one entry of their dictionary: "gunged_up".
const BLANK = /[\x00-\x20_]+/y
const FIGURE = /[0-9]+(?:[.,/][0-9]+)*|\.[0-9]+/y
const WORD = /[a-z'\u{80}-\u{10ffff}]+/uy
const DECIMAL = /^([0-9]*)[.,]([0-9]+)$/
const THOUSANDS = /^[1-9][0-9]{0,2},[0-9]{3}$/
const OVER = /^[0-9]{1,6}\/[0-9]{1,6}$/
const ORDINAL = /(?:st|nd|rd|th)(?![a-z0-9])/y
const NUMBER_AFTER = /\.?[\x00-\x20]*[0-9]/y
const INSIDE_WORD = /[a-z0-9\xb2\xb3\xb5]/y
const MINUS = /-[\x00-\x20]?\.?[0-9]/y

const SAID_WHOLE = new Set([...table.fillers, ...Object.values(table.corrections).flat()].flatMap((phrase) => phrase.split(' ')))
const WHOLE = /^[0-9]+$/

/** What `pattern` matches where `at` is, or null. */
function match(pattern: RegExp, line: string, at: number): string | null {
  pattern.lastIndex = at
  return pattern.exec(line)?.[0] ?? null
}

type Step = [Token | null, number, boolean]

/** The tokens of a line, in order. Never throws; text beyond MOST_LETTERS is not looked at. */
export function tokens(text: string): Token[] {
  let line = text.length > MOST_LETTERS ? Array.from(text).slice(0, MOST_LETTERS).join('') : text
  line = line.replace(/[A-Z]/g, (letter) => letter.toLowerCase())
  for (const [sign, plain] of Object.entries(ALIKE)) line = line.replaceAll(sign, plain)
  const words: Token[] = []
  let [at, breaks] = [0, false]
  while (at < line.length && words.length <= MOST_TOKENS) {
    const [token, after, stopped] = next(line, at, breaks, words)
    if (token) words.push(token)
    ;[at, breaks] = [after, stopped]
  }
  return words
}

/** [the token that begins at `at` or null, where to go on, whether a stop was passed]. */
function next(line: string, at: number, breaks: boolean, before: Token[]): Step {
  const last = before.at(-1)
  if (last && FIGURES.includes(last.kind) && !breaks) {
    const unit = unitAt(line, at, last)
    if (unit) return [{ kind: 'unit', text: unit[1], breaks: false, raw: unit[0] }, at + unit[0].length, false]
  }
  const blank = match(BLANK, line, at)
  if (blank !== null) return [null, at + blank.length, breaks]
  const figure = match(FIGURE, line, at)
  if (figure !== null) return ofFigure(line, figure, at + figure.length, breaks)
  const word = match(WORD, line, at)
  if (word !== null) return ofWord(line, word, at + word.length, breaks)
  const sign = line[at]!
  const after = at + 1
  const glued = at > 0 && !' \t\n\r'.includes(line[at - 1]!)
  if (sign === '#') return [{ kind: 'sign', text: '#', breaks, raw: '#' }, after, false]
  if (sign === '%' || sign === '"') {
    const follows = last !== undefined && ['word', ...FIGURES].includes(last.kind) && !breaks
    if (sign === '%' && follows) return [{ kind: 'unit', text: '%', breaks: false, raw: '%' }, after, false]
    return [null, after, true]
  }
  if (sign === ':' || sign === '=') return [{ kind: 'word', text: 'is', breaks, raw: sign }, after, false]
  if (sign === '-') return ofDash(line, at, breaks, glued, before)
  if (sign === '+' && match(FIGURE, line, after) !== null) {
    return [{ kind: 'plus', text: '+', breaks, raw: '+' }, after, false]
  }
  return [null, after, true]
}

function ofDash(line: string, at: number, breaks: boolean, glued: boolean, before: Token[]): Step {
  const after = at + 1
  const last = before.at(-1)
  const following = match(FIGURE, line, after)
  if (glued && last && FIGURES.includes(last.kind) && following !== null) {
    // 3-1/2 is three and a half; 15-20 is from fifteen to twenty.
    if (last.kind === 'whole' && OVER.test(following)) return [null, after, false]
    return [{ kind: 'to', text: '-', breaks, raw: '-' }, after, false]
  }
  if (!glued && match(MINUS, line, at) !== null) return [{ kind: 'minus', text: '-', breaks, raw: '-' }, after, false]
  return [null, after, breaks || !glued]
}

function ofWord(line: string, raw: string, after: number, breaks: boolean): Step {
  let text = raw.replace(/^'+|'+$/g, '')
  // "Bore three's ..." is bore three.
  if (text.endsWith("'s") && !SAID_WHOLE.has(text)) text = text.slice(0, -2).replace(/'+$/, '')
  if (!text) return [null, after, breaks]
  if (text === 'no' && line[after] === '.' && match(NUMBER_AFTER, line, after) !== null) {
    return [{ kind: 'sign', text: 'no', breaks, raw: 'no.' }, after + 1, false]
  }
  return [{ kind: 'word', text, breaks, raw: text }, after, false]
}

function ofFigure(line: string, raw: string, after: number, breaks: boolean): Step {
  const suffix = WHOLE.test(raw) ? match(ORDINAL, line, after) : null
  if (suffix !== null) return [{ kind: 'ordinal', text: raw, breaks, raw: raw + suffix }, after + suffix.length, false]
  return [{ kind: kindOf(raw), text: asDecimal(raw), breaks, raw }, after, false]
}

/** [spelling, code] of the unit written behind a figure, the longest one that ends where a word ends. */
function unitAt(line: string, at: number, figure: Token): [string, string] | null {
  for (const [spelling, code] of SPELLINGS) {
    if (!line.startsWith(spelling, at)) continue
    if (match(INSIDE_WORD, spelling, spelling.length - 1) && match(INSIDE_WORD, line, at + spelling.length)) continue
    // "crack at valve 3 in the head": a bare "in" is inches only where the figure can be nothing but a size.
    if (spelling === 'in' && figure.kind === 'whole' && ' \t\n\r'.includes(line[at - 1]!)) continue
    return [spelling, code]
  }
  return null
}

function kindOf(raw: string): TokenKind {
  if (WHOLE.test(raw)) return 'whole'
  if (OVER.test(raw)) return 'fraction'
  return DECIMAL.test(raw) && !THOUSANDS.test(raw) ? 'decimal' : 'unsure'
}

/** 88,94 and .94 with a point and a figure before it; what is no plain decimal stays as it is. */
function asDecimal(raw: string): string {
  const digits = DECIMAL.exec(raw)
  return digits && !THOUSANDS.test(raw) ? `${digits[1] || '0'}.${digits[2]}` : raw
}
