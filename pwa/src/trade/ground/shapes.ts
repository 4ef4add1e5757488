// What a single field of an entry may hold: the twin of trade/ground/shapes.py.
// A check answers null when the value is fine, else the reason in words.

import { orNull } from './errors.ts'
import { say } from './say.ts'
import { read } from './units.ts'

export type Check = (value: unknown) => string | null

export interface Spec {
  is: string
  most?: number
  least?: number
  each?: number
  from?: number
  to?: number
  of?: Record<string, string>
  yes?: string
  no?: string
  empty?: boolean
  null?: boolean
}

export const ZERO_HASH = '0'.repeat(64)

const UUID = /^[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}$/
const UUID7 = /^[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/
const HASH = /^[0-9a-f]{64}$/
const DECIMAL = /^-?(0|[1-9][0-9]{0,15})(\.[0-9]{1,15})?$/
const KEY = /^(?:[A-Za-z0-9+/]{4}){20,300}(?:[A-Za-z0-9+/]{2}==|[A-Za-z0-9+/]{3}=)?$/
const LETTER = /^[A-Z]{1,2}$/
const PLACE = /^[a-z][a-z0-9_]*(?:\/[A-Za-z0-9_]+){0,5}$/
const TIME =
  /^([0-9]{4})-([0-9]{2})-([0-9]{2})T(?:[01][0-9]|2[0-3]):[0-5][0-9]:[0-5][0-9]\.[0-9]{3}(?:Z|[+-](?:[01][0-9]|2[0-3]):[0-5][0-9])$/
// Line ends and tabs are part of what people write; other control characters and halves of a character are not text.
const NOT_TEXT = /[\x00-\x08\x0b\x0c\x0e-\x1f\x7f\ud800-\udfff]/u
// The server's own idea of blank: \s does not count U+0085 here, and it does there.
const BLANK = /^[\s\x85]*$/

function matches(pattern: RegExp, reason: string): Check {
  return (value) => (typeof value === 'string' && pattern.test(value) ? null : reason)
}

export const uuid = matches(UUID, say('ground.not_uuid'))
export const uuid7 = matches(UUID7, say('ground.not_uuid7'))
export const hash64 = matches(HASH, say('ground.not_hash'))
const decimal = matches(DECIMAL, say('ground.not_decimal'))
const key = matches(KEY, say('ground.not_key'))
const letter = matches(LETTER, say('ground.not_letter'))
const uuidOrNothing: Check = (value) => (value === '' ? null : uuid(value))
const yesNo: Check = (value) => (typeof value === 'boolean' ? null : say('ground.not_yes_no'))

const place: Check = (value) =>
  typeof value === 'string' && value.length <= 80 && PLACE.test(value) ? null : say('ground.not_place')

/** RFC 3339 with milliseconds and an offset: 2026-05-14T10:38:07.120+01:00. */
export const time: Check = (value) => {
  const match = typeof value === 'string' ? TIME.exec(value) : null
  if (match) {
    const [year, month, day] = [Number(match[1]), Number(match[2]), Number(match[3])]
    const leap = year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0)
    const days = [31, leap ? 29 : 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31][month - 1] ?? 0
    if (year >= 1 && day >= 1 && day <= days) return null
  }
  return say('ground.not_time')
}

/** How many characters a text has, counted as Unicode code points, as the server counts them. */
function characters(value: string): number {
  let count = 0
  for (const _ of value) count += 1
  return count
}

/** Text of `least` to `most` characters. */
export function text(most: number, least = 0): Check {
  return (value) => {
    if (typeof value !== 'string') return say('ground.not_text')
    const length = value.length <= most ? value.length : characters(value)
    if (length > most) return say('ground.too_long', { most })
    if (characters(value) < least || (least && BLANK.test(value))) return say('ground.empty')
    return NOT_TEXT.test(value) ? say('ground.not_characters') : null
  }
}

export function whole(lowest = 0, highest = Number.MAX_SAFE_INTEGER): Check {
  const reason = say('ground.not_whole', { lowest, highest })
  return (value) =>
    typeof value === 'number' && Number.isInteger(value) && lowest <= value && value <= highest ? null : reason
}

function choice(words: Record<string, string>): Check {
  const allowed = new Set(Object.keys(words))
  const reason = say('ground.none_of', { known: [...allowed].map((word) => `'${word}'`).join(', ') })
  return (value) => (typeof value === 'string' && allowed.has(value) ? null : reason)
}

function texts(most: number, each: number): Check {
  const check = text(each, 1)
  return (value) => {
    if (!Array.isArray(value)) return say('ground.not_list')
    if (value.length > most) return say('ground.too_many', { most })
    for (const item of value) {
      const reason = check(item)
      if (reason) return say('ground.bad_item', { reason })
    }
    return new Set(value).size === value.length ? null : say('ground.twice')
  }
}

/** A typed value, kept as typed, that the arithmetic can read: 57.02, -0,02, 3 1/2, also with its unit. */
function amount(most: number, least = 0): Check {
  const typed = text(most, least)
  return (value) => {
    const reason = typed(value)
    return reason ?? (orNull(() => read(value as string)) ? null : say('ground.not_amount'))
  }
}

export function nothingOr(check: Check): Check {
  return (value) => (value === null ? null : check(value))
}

/** True for an object with exactly the named fields. */
export function hasExactly(value: unknown, names: readonly string[]): value is Record<string, unknown> {
  if (!isObject(value)) return false
  const keys = Object.keys(value)
  return keys.length === names.length && names.every((name) => Object.hasOwn(value, name))
}

export function isObject(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value)
}

const point = text(80)

/** Null, or exactly {place, point}. */
export const location: Check = (value) => {
  if (value === null) return null
  if (!hasExactly(value, ['place', 'point'])) return say('ground.not_location')
  const wrongPlace = place(value['place'])
  if (wrongPlace) return say('ground.bad_place', { reason: wrongPlace })
  const wrongPoint = point(value['point'])
  return wrongPoint ? say('ground.bad_point', { reason: wrongPoint }) : null
}

const freeText = text(8000)

/** A value that may stand in an entry at all: text, whole number, yes/no, nothing, or a list or object of them. */
function plain(value: unknown, depth = 0): string | null {
  if (typeof value === 'string') return freeText(value)
  if (value === null || typeof value === 'boolean') return null
  if (typeof value === 'number') {
    if (Number.isSafeInteger(value)) return null
    return Number.isInteger(value)
      ? say('ground.too_large')
      : say('ground.fraction')
  }
  if (depth === 6) return say('ground.too_deep')
  if (!Array.isArray(value) && !isObject(value)) return say('ground.no_kind')
  for (const item of Array.isArray(value) ? value : Object.values(value)) {
    const reason = plain(item, depth + 1)
    if (reason) return reason
  }
  return null
}

/** At most 40 fields with their new values; whether the fields exist is checked against the entry they correct. */
const changes: Check = (value) => {
  if (!isObject(value)) return say('ground.not_changes')
  if (Object.keys(value).length > 40) return say('ground.too_many_changes')
  for (const [name, item] of Object.entries(value)) {
    const reason = plain(item, 1)
    if (reason) return say('ground.bad_field', { field: name, reason })
  }
  return null
}

const RESULT: Record<string, Check> = {
  engine: text(60, 1),
  version: text(60, 1),
  model: text(120, 1),
  model_sha256: hash64,
  sort: choice({ closed: '', free: '' }),
  denoised: yesNo,
  vocabulary: hash64,
  text: text(16000),
  confidence: whole(0, 100),
}
const [MOST_RESULTS, MOST_WORDS, LONGEST_MS] = [12, 5000, 86_400_000]
const [heardWord, heardAt, heardShare] = [text(80, 1), whole(0, LONGEST_MS), whole(0, 100)]

/**
 * What recognisers heard in one sound, one result for each: the fields of RESULT and `words`, a list of
 * [word, from ms, to ms, confidence in percent] in the order of their beginnings.
 */
const transcripts: Check = (value) => {
  if (!Array.isArray(value)) return say('ground.not_list')
  if (value.length > MOST_RESULTS) return say('ground.too_many_results', { most: MOST_RESULTS })
  const seen = new Set<string>()
  for (const result of value) {
    const reason = ofResult(result)
    if (reason) return say('ground.bad_result', { reason })
    seen.add(`${result.engine} ${result.model_sha256}`)
  }
  return seen.size === value.length ? null : say('ground.results_alike')
}

function ofResult(result: unknown): string | null {
  const fields = Object.keys(RESULT)
  if (!hasExactly(result, [...fields, 'words'])) return say('ground.result_fields', { fields: fields.join(', ') })
  for (const name of fields) {
    const reason = RESULT[name]!(result[name])
    if (reason) return say('ground.bad_field', { field: name, reason })
  }
  const words = result['words']
  if (!Array.isArray(words) || words.length > MOST_WORDS) return say('ground.too_many_words', { most: MOST_WORDS })
  let before = 0
  for (const word of words) {
    const whole = Array.isArray(word) && word.length === 4
    if (!whole || heardWord(word[0]) || heardAt(word[1]) || heardAt(word[2]) || heardShare(word[3])) {
      return say('ground.bad_word')
    }
    if (word[1] < before || word[2] < word[1]) return say('ground.words_unordered')
    before = word[1]
  }
  return null
}

const MEANS = /^(?:part|condition|quantity|disposition):[^: ][^:]{0,59}$/u

/** What a word of the workshop stands for: '' (only itself) or part:<code>, condition:<word>, quantity:<code>, disposition:<code>. */
const means: Check = (value) =>
  typeof value === 'string' && !freeText(value) && (value === '' || MEANS.test(value))
    ? null
    : say('ground.not_means')

const SIMPLE: Record<string, Check> = { uuid, hash: hash64, decimal, key, letter, yes_no: yesNo, location, changes, transcripts, means }

/** The check that a field description of kinds.json asks for; special ones (`stage` …) are added by kinds. */
export function shape(spec: Spec): Check {
  let check: Check
  if (spec.is === 'text') check = text(spec.most!, spec.least ?? 0)
  else if (spec.is === 'amount') check = amount(spec.most!, spec.least ?? 0)
  else if (spec.is === 'whole') check = whole(spec.from, spec.to)
  else if (spec.is === 'choice') check = choice(spec.of!)
  else if (spec.is === 'texts') check = texts(spec.most!, spec.each!)
  else if (spec.is === 'uuid' && spec.empty) check = uuidOrNothing
  else check = SIMPLE[spec.is]!
  return spec.null ? nothingOr(check) : check
}
