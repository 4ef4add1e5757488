// Which of the numbers said is the number of the part and which the value: every way to take them is tried on the engine,
// and one is taken only when it is the only one that fits. The twin of trade/spoken/settle.py.

import type { Place } from '../engine/locations.ts'
import { PARTS, type EngineType } from '../engine/parts.ts'
import { isFractionWord, natural, readNumber, spelledPair, type Spoken } from './numbers.ts'
import { resolvePlace, type Mention, type Where } from './places.ts'
import type { Token } from './text.ts'
import type { Run, Walk } from './walk.ts'
import { NUMBERS } from './words.ts'

const MOST_WAYS = 400
const LONGEST_INDEX = 3

/**
 * One way to take one number: the first so many count parts, the rest is the value. `shaky`: the same words are one number
 * as well ("three point nine").
 */
interface Taken {
  indices: string[]
  value: Spoken | null
  degrees: string
  shaky: boolean
}

/**
 * `place` "" when none or not one; `counted`: a number was taken for it. `values` are those of the chosen way with the runs
 * they come from; `doubt`: several ways fit, or the words can be one number; `maybe` what was meant then.
 */
export interface Settled {
  place: string
  values: [Run, Spoken][]
  degrees: string[]
  counted: boolean
  doubt: boolean
  placeDoubt: boolean
  maybe: string[]
}

/** What the engine and the screen say: `places` null without an engine type. */
export interface On {
  places: Place[] | null
  engine: EngineType | null
  onScreen: string
}

interface Way {
  rank: number[]
  place: string
  taken: Taken[]
}

/** The place and the values. `degrees`: the degrees that are points of the part here ("90" of a journal). */
export function settle(walk: Walk, where: Where, on: On, degrees: string[]): Settled {
  const runs = walk.runs.filter((run) => !run.clock)
  const ways = runs.map((run) => waysOf(run, walk.mentions, degrees))
  const count = ways.reduce((product, some) => product * Math.max(1, some.length), 1)
  if (count > MOST_WAYS || ways.some((some) => !some.length)) {
    return { ...nothing(''), doubt: runs.length > 0, placeDoubt: walk.mentions.length > 0 }
  }
  let best: Way[] = []
  for (const taken of product(ways)) {
    const place = placeOf(walk, where, on, runs, taken)
    const rank = rankOf(walk, runs, taken, place)
    const order = best.length ? compare(rank, best[0]!.rank) : 0
    if (order > 0) best = []
    if (order >= 0) best.push({ rank, place, taken })
  }
  return chosen(runs, walk, best)
}

const nothing = (place: string): Settled => ({
  place, values: [], degrees: [], counted: false, doubt: false, placeDoubt: false, maybe: [],
})

function product(ways: Taken[][]): Taken[][] {
  return ways.reduce<Taken[][]>((all, some) => all.flatMap((before) => some.map((taken) => [...before, taken])), [[]])
}

function compare(a: number[], b: number[]): number {
  const at = a.findIndex((index, i) => index !== b[i])
  return at < 0 ? 0 : a[at]! - b[at]!
}

function placeOf(walk: Walk, where: Where, on: On, runs: Run[], way: Taken[]): string {
  if (!walk.mentions.length) return ''
  const mentions = walk.mentions.map((mention) => ({ ...mention, numbers: [...mention.numbers] }))
  runs.forEach((run, i) => {
    if (run.mention >= 0) mentions[run.mention]!.numbers.push(...way[i]!.indices)
  })
  return resolvePlace(on.places, on.engine, { ...where, mentions }, on.onScreen)
}

function rankOf(walk: Walk, runs: Run[], way: Taken[], place: string): number[] {
  const values = way.flatMap((taken) => taken.value ?? [])
  const ranges = runs.filter((run, i) => i + 1 < runs.length && run.to && way[i]!.value && way[i + 1]!.value).length
  return [
    place || !walk.mentions.length ? 1 : 0,
    values.length - ranges <= 1 ? 1 : 0,
    values.every((value) => value.text) ? 1 : 0,
    way.some((taken) => taken.shaky) ? 0 : 1,
  ]
}

function chosen(runs: Run[], walk: Walk, best: Way[]): Settled {
  const [{ place, taken: way }, ...others] = best as [Way, ...Way[]]
  const settled = nothing(place)
  settled.degrees = way.flatMap((taken) => taken.degrees || [])
  settled.values = runs.flatMap((run, i): [Run, Spoken][] => (way[i]!.value ? [[run, way[i]!.value!]] : []))
  settled.counted = way.some((taken) => taken.indices.length > 0)
  if (others.some((other) => other.place !== place)) Object.assign(settled, { place: '', placeDoubt: true })
  if (others.length || way.some((taken) => taken.shaky)) {
    settled.doubt = true
    settled.maybe = best.flatMap(({ taken }) => taken.flatMap((choice) => choice.value?.text || []))
    runs.forEach((run, i) => {
      const whole = readNumber(run.tokens)
      if (!way[i]!.shaky || !whole) return
      settled.maybe.push(whole.text, ...whole.maybe)
      Object.assign(settled, { place: '', placeDoubt: true })
    })
  }
  unfilled(runs, walk, way, settled)
  return settled
}

/** A whole number behind a part that lacks its number ("cylinder 68 %") may hold both. */
function unfilled(runs: Run[], walk: Walk, way: Taken[], settled: Settled): void {
  runs.forEach((run, i) => {
    const taken = way[i]!
    if (run.mention < 0 || taken.indices.length || !taken.value || settled.place) return
    const { text } = taken.value
    if (!/^[0-9]+$/.test(text)) return
    settled.placeDoubt = settled.placeDoubt || !walk.mentions[run.mention]!.loose || text.length === 1
    if (run.tokens.length === 1 && run.tokens[0]!.kind === 'whole') {
      settled.doubt = true
      const ends = [...text].map((_, from) => text.slice(from)).filter((end, from) => from === 0 || end[0] !== '0')
      settled.maybe.push(...ends)
    } else if (text.length === 1) {
      settled.doubt = true
      settled.maybe.push(text)
    }
  })
}

function waysOf(run: Run, mentions: Mention[], degrees: string[]): Taken[] {
  const mention = mentions[run.mention]
  const most = !mention ? 0 : mention.loose ? 2 : Math.max(...mention.parts.map(mostNumbers))
  const choices: Taken[] = []
  for (const [indices, rest] of heads(run.tokens, most)) {
    if (run.must && !indices.length) continue
    if (!rest.length) {
      if (!run.unit) choices.push({ indices, value: null, degrees: '', shaky: false })
      continue
    }
    const value = readNumber(rest)
    if (!value) continue
    const shaky = indices.length > 0 && canJoin(rest[0]!) && !run.must
    if (run.unit === '°' && degrees.includes(value.text)) choices.push({ indices, value: null, degrees: value.text, shaky })
    else choices.push({ indices, value, degrees: '', shaky })
  }
  return choices
}

function mostNumbers(part: string): number {
  const { per, at } = PARTS[part]!
  if (['whole', 'once', 'bank', 'manifold'].includes(per)) return 0
  return ['valve', 'lobe', 'camshaft'].includes(per) || at === 'main' || at === 'cylinder' ? 2 : 1
}

/** A token that may go on with the number before it as well as begin one. */
function canJoin(token: Token): boolean {
  return token.kind === 'fraction' || (token.kind === 'word' && NUMBERS.point.includes(token.text))
}

type Head = [indices: string[], rest: Token[]]

/** Every split into up to `most` numbers that may count parts, and the rest. A number said as one is not cut. */
function heads(tokens: Token[], most: number): Head[] {
  const splits: Head[] = [[[], tokens]]
  if (most === 0 || !tokens.length) return splits
  for (const [text, used] of firstNumbers(tokens)) {
    const rest = tokens.slice(used)
    if (rest[0]?.kind === 'word' && rest[0].text === 'and') continue
    splits.push(...heads(rest, most - 1).map(([indices, left]): Head => [[text, ...indices], left]))
  }
  return splits
}

function firstNumbers(tokens: Token[]): [string, number][] {
  const pairs: [string, number][] = []
  const [text, used] = natural(tokens)
  const index = used > 0 && /^[1-9][0-9]*$/.test(text) && text.length <= LONGEST_INDEX
  if (index && !isFractionWord(tokens, used)) pairs.push([text, used])
  const two = spelledPair(tokens.slice(0, 2))
  if (two && !pairs.some(([word, count]) => word === two && count === 2)) pairs.push([two, 2])
  return pairs
}
