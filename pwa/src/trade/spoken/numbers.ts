// Spoken numbers as digits: "eighty eight point nine oh" is 88.90, "three and a half" 3.5, "four eight" 48. The twin of
// trade/spoken/numbers.py. What can be read in two ways is not read: the ways are offered instead.

import { FIGURES, type Token } from './text.ts'
import { NUMBERS } from './words.ts'

const DIGITS: Record<string, string> = NUMBERS.digits
const TEENS: Record<string, string> = NUMBERS.teens
const TENS: Record<string, string> = NUMBERS.tens
const FRACTIONS: Record<string, string> = NUMBERS.fractions
const REPEAT: Record<string, string> = NUMBERS.repeat
/** Halves and quarters are said for decimals; other fractions stay as they were said. */
const AS_DECIMALS: Record<string, string> = { '1/2': '.5', '1/4': '.25', '3/4': '.75' }
/** No reading has more; a value that cannot be kept is not read. */
const MOST_FIGURES = 15
const BY_TENS: Record<string, number> = { 10: 1, 100: 2 }

/**
 * `text` the digits, "" when there are several ways to read them: `maybe`. `partsOf`: "two tenths", which is a number
 * only when it is said of what.
 */
export interface Spoken {
  text: string
  maybe: string[]
  partsOf: boolean
}

type Sort = keyof typeof NUMBERS

const number = (text: string, maybe: string[] = [], partsOf = false): Spoken => ({ text, maybe, partsOf })

function is(token: Token, sort: Sort): boolean {
  const words = NUMBERS[sort]
  return token.kind === 'word' && (Array.isArray(words) ? words.includes(token.text) : Object.hasOwn(words, token.text))
}

const PLAIN: Sort[] = ['digits', 'teens', 'tens', 'hundred', 'thousand', 'repeat']

/** A token that can stand anywhere in a number. */
function isPlain(token: Token): boolean {
  return FIGURES.includes(token.kind) || PLAIN.some((sort) => is(token, sort))
}

function isFraction(token: Token): boolean {
  return token.kind === 'fraction' || is(token, 'fractions')
}

/** Where the number that begins at `at` ends, `at` itself when none does. A number does not go across a stop. */
export function runEnd(tokens: Token[], at: number): number {
  const start = at
  if (startsWithSign(tokens, at)) at += 1
  let end = at
  while (end < tokens.length && !(tokens[end]!.breaks && end > start)) {
    const more = step(tokens, end, end === at)
    if (more === 0) break
    end += more
  }
  return end > at ? end : start
}

function startsWithSign(tokens: Token[], at: number): boolean {
  const token = tokens[at]!
  const signed = token.kind === 'minus' || token.kind === 'plus' || is(token, 'minus') || is(token, 'plus')
  const following = tokens[at + 1]
  return signed && following !== undefined && !following.breaks && step(tokens, at + 1, true) > 0
}

/** How many tokens at `at` go on with a number: 0 for none. */
function step(tokens: Token[], at: number, first: boolean): number {
  const token = tokens[at]!
  const then = (offset: number) => {
    const token = tokens[at + offset]
    return token && !token.breaks ? token : null
  }
  const following = then(1)
  if (is(token, 'ordinals')) return token.text !== 'second' && !first && is(token, 'fractions') ? 1 : 0
  if (isPlain(token) || isFraction(token)) return 1
  if (!following) return 0
  if (is(token, 'point')) return Number(isPlain(following))
  if (is(token, 'one')) return Number(isFraction(following) || is(following, 'hundred') || is(following, 'thousand'))
  return Number(is(token, 'and') && !first && goesOnAfterAnd(following, then(2)))
}

/** Whether a number goes on behind "and": "hundred and four", "two and a half". */
function goesOnAfterAnd(token: Token, following: Token | null): boolean {
  return isPlain(token) || isFraction(token) || (following !== null && is(token, 'one') && isFraction(following))
}

/** The number that the tokens say from first to last, or null when they say none. */
export function readNumber(tokens: Token[]): Spoken | null {
  const first = tokens[0]
  if (!first) return null
  const minus = first.kind === 'minus' || is(first, 'minus')
  const signed = minus || first.kind === 'plus' || is(first, 'plus')
  let reading = unsigned(signed ? tokens.slice(1) : tokens)
  if (reading && reading.text.length > MOST_FIGURES) reading = number('')
  if (!reading || !minus) return reading
  return number(reading.text && `-${reading.text}`, reading.maybe.map((text) => `-${text}`), reading.partsOf)
}

function unsigned(tokens: Token[]): Spoken | null {
  const first = tokens[0]
  if (!first) return null
  if (tokens.length === 1 && first.kind === 'unsure') return unsureFigure(first.text)
  const [whole, at] = natural(tokens)
  if (!whole && is(first, 'point')) return afterPoint('0', tokens.slice(1))
  if (!whole) return allDigits(tokens) ? spelledOut(tokens) : fraction('', tokens)
  if (at === tokens.length) return number(whole)
  const rest = tokens.slice(at)
  if (is(rest[0]!, 'point')) return afterPoint(whole, rest.slice(1))
  const reading = is(rest[0]!, 'fractions') ? fraction('', tokens) : fraction(whole, rest)
  if (reading) return reading
  return allDigits(tokens) ? spelledOut(tokens) : pieces(tokens)
}

function unsureFigure(text: string): Spoken {
  const bare = text.replaceAll(',', '')
  if (text.split(',').length === 2 && !text.includes('.') && !text.includes('/')) {
    return number('', [bare, text.replace(',', '.')])
  }
  return number('', bare.split('.').length < 3 && !bare.includes('/') ? [bare] : [])
}

type Natural = [text: string, used: number]

/** [digits of the whole number said at the start, how many tokens it takes]; a decimal figure is one too. */
export function natural(tokens: Token[]): Natural {
  const first = tokens[0]
  if (!first) return ['', 0]
  if (first.kind === 'decimal') return [first.text, 1]
  const [thousands, at] = belowThousand(tokens)
  if (at && at < tokens.length && is(tokens[at]!, 'thousand')) {
    const [rest, more] = afterAnd(tokens, at + 1, 1000)
    return [String(BigInt(thousands) * 1000n + BigInt(rest || '0')), at + 1 + more]
  }
  return [thousands, at]
}

/** What follows hundred or thousand, with or without "and". */
function afterAnd(tokens: Token[], at: number, below: number): Natural {
  const skip = at < tokens.length && is(tokens[at]!, 'and') ? 1 : 0
  const rest = tokens.slice(at + skip)
  if (!rest.length || FIGURES.includes(rest[0]!.kind)) return ['', 0]
  const [text, used] = below === 1000 ? belowThousand(rest) : belowHundred(rest)
  if (!used || is(rest[0]!, 'one')) return ['', 0]
  // "a hundred and three quarters" is no hundred and three.
  const after = rest[used]
  if (skip && after && isFraction(after)) return ['', 0]
  // A figure below one in a place of its own, "hundred oh four", is spelled and not counted.
  return text === '0' ? ['', 0] : [text, skip + used]
}

function belowThousand(tokens: Token[]): Natural {
  const [text, at] = belowHundred(tokens)
  if (at && at < tokens.length && is(tokens[at]!, 'hundred') && BigInt(text) > 0n) {
    const [rest, more] = afterAnd(tokens, at + 1, 100)
    return [String(BigInt(text) * 100n + BigInt(rest || '0')), at + 1 + more]
  }
  return [text, at]
}

function belowHundred(tokens: Token[]): Natural {
  const first = tokens[0]!
  const following = tokens[1]
  if (first.kind === 'whole') return [first.text, 1]
  if (first.kind !== 'word') return ['', 0]
  if (is(first, 'one') && following && (is(following, 'hundred') || is(following, 'thousand'))) return ['1', 1]
  if (is(first, 'tens')) {
    if (following && is(following, 'digits') && DIGITS[following.text] !== '0') {
      const text = TENS[first.text]![0]! + DIGITS[following.text]!
      // "Twenty three quarters" is twenty and three quarters, or nothing; "twenty five hundredths" is plain.
      const cut = tokens[2] && is(tokens[2], 'fractions') && Number(FRACTIONS[tokens[2].text]) < Number(text)
      return cut ? [TENS[first.text]!, 1] : [text, 2]
    }
    return [TENS[first.text]!, 1]
  }
  if (is(first, 'teens')) return [TEENS[first.text]!, 1]
  if (is(first, 'digits')) return [DIGITS[first.text]!, 1]
  return ['', 0]
}

/** Digits said one by one, "double four" too; null when something else is among them. */
function digits(tokens: Token[]): string | null {
  let text = ''
  for (let at = 0; at < tokens.length; at += 1) {
    const token = tokens[at]!
    if (is(token, 'repeat')) {
      const following = tokens[at + 1]
      if (!following || !is(following, 'digits')) return null
      text += DIGITS[following.text]!.repeat(Number(REPEAT[token.text]))
      at += 1
    } else if (is(token, 'digits')) text += DIGITS[token.text]!
    else if (token.kind === 'whole' && token.text.length === 1) text += token.text
    else return null
  }
  return text
}

/** Digits one by one, with a point among them or none. */
function allDigits(tokens: Token[]): boolean {
  const bare = tokens.filter((token) => !is(token, 'point'))
  return tokens.length - bare.length <= 1 && digits(bare) !== null
}

function spelledOut(tokens: Token[]): Spoken | null {
  const point = tokens.findIndex((token) => is(token, 'point'))
  if (point >= 0) return afterPoint(digits(tokens.slice(0, point)) || '0', tokens.slice(point + 1))
  const text = digits(tokens) ?? ''
  if (text.length <= 2 && text[0] !== '0') {
    // "Two two" may be two, said twice; "double two" is not.
    const twice = text[0] === text.at(-1) && tokens.length === 2 && !is(tokens[0]!, 'repeat')
    return twice ? number('', [text, text[0]!]) : number(text)
  }
  // Three digits and more: a point may have been lost on the way.
  const ways = [1, 2, 3].filter((n) => n < text.length).map((n) => `${text.slice(0, -n)}.${text.slice(-n)}`)
  return number('', [...new Set([text, ...ways])])
}

function afterPoint(whole: string, tokens: Token[]): Spoken | null {
  if (!tokens.length || whole.includes('.')) return whole.includes('.') ? number('', [whole]) : null
  const decimals = digits(tokens) ?? decimalsAsOne(tokens)
  if (decimals !== null) return number(`${whole}.${decimals}`)
  // "point nine four and a half": half of the last place, as some say it.
  for (let at = 1; at < tokens.length; at += 1) {
    const head = digits(tokens.slice(0, at)) || decimalsAsOne(tokens.slice(0, at))
    const tail = head && is(tokens[at]!, 'and') ? fraction('', tokens.slice(at + 1)) : null
    if (head && tail?.text.startsWith('0.')) {
      return number('', [`${whole}.${head}${tail.text.slice(2)}`, `${whole}.${head}`])
    }
  }
  const all = joined(tokens)
  return number('', all ? [`${whole}.${all}`] : [])
}

/** Decimals said as one number, "point ninety four", noughts before it spelled; a figure as it is written. */
function decimalsAsOne(tokens: Token[]): string | null {
  let at = 0
  while (at < tokens.length && is(tokens[at]!, 'digits') && DIGITS[tokens[at]!.text] === '0') at += 1
  const rest = tokens.slice(at)
  if (!rest.length) return null
  const [text, used] = belowHundred(rest)
  return used === rest.length && text ? '0'.repeat(at) + text : null
}

/** A fraction after a whole number, or alone: "and a half", "three quarters", "1/2". */
function fraction(whole: string, tokens: Token[]): Spoken | null {
  if (!tokens.length) return null
  const at = whole && is(tokens[0]!, 'and') ? 1 : 0
  let rest = tokens.slice(at)
  if (!rest.length) return null
  if (rest.length === 1 && rest[0]!.kind === 'fraction') {
    const [over, under] = rest[0]!.text.split('/').map(Number) as [number, number]
    return ofFraction(whole, over, under, rest[0]!.text)
  }
  // "eighty eight half": without "and" or "a" it may be anything.
  if (whole && at === 0 && !is(tokens[0]!, 'one')) return null
  if (whole.includes('.')) return number('', [whole])
  let over = '1'
  if (is(rest[0]!, 'one')) rest = rest.slice(1)
  else if (!is(rest[0]!, 'fractions')) {
    const [text, used] = belowHundred(rest)
    over = text
    rest = used ? rest.slice(used) : []
  }
  if (rest.length !== 1 || !is(rest[0]!, 'fractions')) return null
  const under = FRACTIONS[rest[0]!.text]!
  // "Quarters": how many was not said.
  if (Number(over) === 1 && rest[0]!.text.endsWith('s')) return number('')
  return ofFraction(whole, Number(over), Number(under), `${Number(over)}/${under}`)
}

function ofFraction(whole: string, over: number, under: number, written: string): Spoken {
  if (!(0 < over && over < under) || whole.includes('.')) return number('')
  const decimals = AS_DECIMALS[`${over}/${under}`]
  if (decimals) return number((whole || '0') + decimals)
  const places = BY_TENS[under]
  if (places) return number(`${whole || '0'}.${String(over).padStart(places, '0')}`, [], true)
  return number(whole ? `${whole} ${written}` : written)
}

/** All whole numbers said, digit after digit; "" when something among them is no whole number. */
function joined(tokens: Token[]): string {
  let text = ''
  for (let at = 0; at < tokens.length; ) {
    const [numeral, used] = natural(tokens.slice(at))
    if (!used || numeral.includes('.')) return ''
    text += numeral
    at += used
  }
  return text
}

/** Whole numbers one after the other and no point: the first may be what stands before it. */
function pieces(tokens: Token[]): Spoken {
  const [first, used] = natural(tokens)
  const rest = joined(tokens.slice(used))
  return !rest || first.includes('.') ? number('') : number('', [`${first}.${rest}`, first + rest])
}

/** Two digits said one by one, as one number: "one two" is 12. "" when they are something else. */
export function spelledPair(tokens: Token[]): string {
  const text = digits(tokens) ?? ''
  return text.length === 2 && tokens.length === 2 && text[0] !== '0' ? text : ''
}

/** True when the number before `at` counts the fraction that stands there: "three quarters". */
export function isFractionWord(tokens: Token[], at: number): boolean {
  return at < tokens.length && is(tokens[at]!, 'fractions') && tokens[at]!.text !== 'half'
}
