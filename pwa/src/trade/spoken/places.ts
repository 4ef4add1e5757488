// Which place of the engine is spoken of: the parts named, their numbers, bank and side, and what the screen shows. The
// twin of trade/spoken/places.py. A place must be there on the engine and be the only one that fits.

import type { Place } from '../engine/locations.ts'
import { FASTENER_PARTS, PARTS, SIDES, type EngineType } from '../engine/parts.ts'
import { TABLE } from './words.ts'

/** Without an engine type nobody knows how many there are; a type has at most so many. */
const MOST_WITHOUT_TYPE = 32

/**
 * One part named. `parts`: what the word can mean; `context`: "cylinder", which alone is a bore and beside another part
 * says only where; `loose`: "bolt", the fasteners of whatever stands beside it or on the screen.
 */
export interface Mention {
  parts: string[]
  context: boolean
  loose: boolean
  numbers: string[]
}

/** What was said of the place: mentions in order with their numbers, the code of the bank, the side; "" for none. */
export interface Where {
  mentions: Mention[]
  bank: string
  side: string
}

const BOLTED: Record<string, string> = TABLE.bolted
const CONTEXTS: Record<string, string[]> = TABLE.contexts
const LETTERS: Record<string, string> = TABLE.banks.letters
const isNumber = (text: string) => /^[0-9]+$/.test(text)
const same = (a: string[], b: string[]) => a.length === b.length && a.every((code, i) => code === b[i])

/** The code of the bank called so ("left", "a"), "" when there is none. */
export function bankNamed(engine: EngineType | null, word: string): string {
  const letter = Object.hasOwn(LETTERS, word) ? LETTERS[word]! : ''
  if (!engine) return letter
  const fitting = engine.banks.filter((bank) => bank.code === (letter || word.toUpperCase()) || bank.name.toLowerCase() === word)
  return fitting.length === 1 ? fitting[0]!.code : ''
}

/**
 * The code of the one place that fits, "" when none does or several do. `onScreen` is the place or the joint that the
 * phone shows: it settles the bank of a bolt, never the number of anything.
 */
export function resolvePlace(places: Place[] | null, engine: EngineType | null, where: Where, onScreen: string): string {
  const parts = new Set<string>()
  for (const own of where.mentions) {
    const others = where.mentions.filter((mention) => mention !== own)
    for (const part of partsOf(own, others, onScreen)) {
      if (!others.every((other) => saysWhere(other, part))) continue
      for (const code of codes(places, engine, part, others, own, where, onScreen)) parts.add(code)
    }
  }
  return parts.size === 1 ? [...parts][0]! : ''
}

function partsOf(own: Mention, others: Mention[], onScreen: string): string[] {
  if (!own.loose) return own.parts
  const beside = others.flatMap((other) => other.parts).flatMap((part) => BOLTED[part] ?? [])
  const shown = onScreen.split('/')[0]!
  return beside.length ? beside : FASTENER_PARTS.includes(shown) ? [shown] : []
}

function saysWhere(other: Mention, part: string): boolean {
  const { per, at } = PARTS[part]!
  if (other.context) return ['cylinder', 'valve', 'lobe'].includes(per) || at === 'cylinder'
  if (other.loose) return false
  return other.parts.some((neighbour) => BOLTED[neighbour] === part || (CONTEXTS[neighbour] ?? []).includes(part))
}

function codes(
  places: Place[] | null,
  engine: EngineType | null,
  part: string,
  contexts: Mention[],
  own: Mention,
  where: Where,
  onScreen: string,
): string[] {
  if (!places || !engine) return withoutType(part, contexts, own, where)
  let fitting = places.filter(
    (place) =>
      place.part === part &&
      (!where.bank || place.bank === where.bank) &&
      (!where.side || place.indices.includes(where.side)) &&
      numbersFit(place, contexts, own, engine),
  )
  if (fitting.length > 1 && !where.bank) {
    // The bank, or the cap, that the screen is about; the fastener's own number is never taken from it.
    const joint = jointOf(onScreen, part)
    if (joint) fitting = fitting.filter((place) => place.code.startsWith(`${joint}/`))
  }
  return fitting.map((place) => place.code)
}

/** The joint that the screen's place belongs to, when it is a fastener of this part. */
function jointOf(onScreen: string, part: string): string {
  const pieces = onScreen.split('/')
  if (pieces[0] !== part || !FASTENER_PARTS.includes(part)) return ''
  return pieces.slice(0, PARTS[part]!.at === '' ? 1 : 2).join('/')
}

function numbersFit(place: Place, contexts: Mention[], own: Mention, engine: EngineType): boolean {
  const given: string[] = []
  for (const context of contexts) {
    const numbers = contextNumbers(context, place)
    if (!numbers) return false
    given.push(...numbers)
  }
  if (PARTS[place.part]!.per === 'fastener') return fastenerFits(place, given, own)
  let wanted = place.indices.filter(isNumber)
  // "Cylinder 3, piston 3" says the same twice.
  const numbers = same(given, own.numbers) ? given : [...given, ...own.numbers]
  // Of a single valve on its side, and of the one cylinder of a single, the number goes without saying.
  if (wanted.length === 2 && sidesValves(place, engine) === 1 && numbers.length < 2) wanted = wanted.slice(0, 1)
  if (!numbers.length && engine.cylinders === 1 && place.cylinder !== null) wanted = wanted.slice(1)
  return same(numbers, wanted)
}

function fastenerFits(place: Place, given: string[], own: Mention): boolean {
  const at = PARTS[place.part]!.at ?? ''
  const label = place.indices.at(-1)!.toLowerCase()
  const before = at === '' || at === 'bank' ? [] : [place.indices[0]!]
  if (given.length || own.numbers.length > 1) return same([...given, ...own.numbers], [...before, label])
  return same(own.numbers, [label])
}

/** The numbers of the place that a mention beside it fixes; null when it speaks of another place. */
function contextNumbers(context: Mention, place: Place): string[] | null {
  if (!context.numbers.length) return []
  const { per } = PARTS[context.parts[0]!]!
  if (per === 'valve' && place.cylinder !== null) {
    const own = place.indices.filter(isNumber).slice(0, context.numbers.length)
    return same(context.numbers, own) ? context.numbers : null
  }
  if (context.numbers.length > 1) return null
  const number = Number(context.numbers[0])
  if (per === 'cylinder') return place.cylinder === number ? context.numbers : null
  if (per === 'main') return place.main === number ? context.numbers : null
  return null
}

function sidesValves(place: Place, engine: EngineType): number {
  const side = SIDES.find((candidate) => place.indices.includes(candidate))
  return side ? engine.valves[side] : 0
}

/** What can be named with no engine type at hand: parts that need no more than one number or a bank's letter. */
function withoutType(part: string, contexts: Mention[], own: Mention, where: Where): string[] {
  const { per } = PARTS[part]!
  const numbers = [...contexts.flatMap((context) => context.numbers), ...own.numbers]
  if (per === 'whole' || per === 'once') return numbers.length ? [] : [part]
  if (per === 'bank') return where.bank && !numbers.length ? [`${part}/${where.bank}`] : []
  if (per === 'manifold') return where.side && !numbers.length ? [`${part}/${where.side}`] : []
  if (['cylinder', 'crankpin', 'main'].includes(per) && numbers.length === 1 && !where.side) {
    const number = Number(numbers[0])
    return number >= 1 && number <= MOST_WITHOUT_TYPE ? [`${part}/${numbers[0]}`] : []
  }
  return []
}
