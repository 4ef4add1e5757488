// One breath of speech, from its first item to its last: what is named in it, and which numbers may belong to what. The
// twin of trade/spoken/walk.py.

import { PARTS } from '../engine/parts.ts'
import { has, means, type Item } from './items.ts'
import type { Mention } from './places.ts'
import type { Token } from './text.ts'
import { CYLINDER_WORDS, NUMBERS, pointPieces, TABLE } from './words.ts'

const LETTERS = TABLE.banks.letters
const NAMED_BY_POINT: Record<string, string> = TABLE.named_by_point
const OF_NUMBERS = [...NUMBERS.point, ...NUMBERS.hundred, ...NUMBERS.thousand, ...Object.keys(NUMBERS.repeat)]
const MANNER = ['slightly', 'badly', 'heavily', 'lightly', 'deeply', 'very', 'quite', 'bit']
const JOINING = ['a', 'an', 'of', 'of a', 'of an', 'of the', 'the']

/**
 * One number as it was said. `mention`: the part it may count (-1: none), `must`: it surely does ("number three").
 * `unit` said behind it, `unitSaid` as it was said, with "of a" before it if so. `to`: the number after it is the upper
 * end of a range. `cut`: an "and" without an end follows. `clock`: it is an hour.
 */
export interface Run {
  tokens: Token[]
  mention: number
  must: boolean
  unit: string
  unitSaid: string
  to: boolean
  cut: boolean
  clock: boolean
}

/**
 * What was named. `points` are [said, pieces it can be], `banks` what banks were called, `left` words without a meaning
 * or said not to be so; `known` and `unknown` count the words with and without a meaning.
 */
export interface Walk {
  mentions: Mention[]
  runs: Run[]
  points: [string, string[]][]
  banks: string[]
  maybeBanks: [said: string, name: string, pieces: string[]][]
  sides: string[]
  quantities: string[][]
  bending: [condition: string, quantity: string][]
  conditions: string[]
  dispositions: string[]
  units: string[]
  otherFigure: boolean
  unsureUnit: boolean
  conditionDoubt: boolean
  noReading: boolean
  doubtful: string[]
  left: string[]
  known: number
  unknown: number
}

const emptyWalk = (): Walk => ({
  mentions: [], runs: [], points: [], banks: [], maybeBanks: [], sides: [], quantities: [], bending: [],
  conditions: [], dispositions: [], units: [], otherFigure: false, unsureUnit: false, conditionDoubt: false, noReading: false,
  doubtful: [], left: [], known: 0, unknown: 0,
})

function makeRun(tokens: Token[], mention = -1, must = false): Run {
  return { tokens, mention, must, unit: '', unitSaid: '', to: false, cut: false, clock: false }
}

/** Goes through the items once; `walk` then holds what was found. */
class Walker {
  readonly walk = emptyWalk()
  /** The mention that a number said now may count. */
  private open = -1
  /** Numbers said before their part: "third", "number three". */
  private forward: Item[] = []
  /** A number sign was said. */
  private awaiting = false
  private negated = false
  private wasNegated = false
  private byNo = false
  /** "Might be". */
  private doubted = false
  private between = false

  constructor(
    private readonly items: Item[],
    private readonly screenPart: string,
    private readonly settles: boolean,
  ) {}

  go(): Walk {
    this.items.forEach((item, at) => {
      if (item.breaks) this.negated = this.doubted = false
      if (item.sort === 'word') this.onWord(at, item)
      else if (item.sort === 'to') this.onTo(at)
      else if (item.sort === 'sign') this.awaiting = true
      else if (item.sort === 'ordinal') this.forward.push(item)
      else if (item.sort === 'unit') this.onUnit(at, item)
      else if (item.sort === 'number') this.onNumber(at, item)
      else this.onPhrase(at, item)
    })
    if (this.forward.length || this.awaiting) {
      // "Number three" of nothing: whose number it is must be said.
      this.walk.doubtful.push('place')
      this.walk.left.push(...this.forward.map((item) => item.said))
    }
    return this.walk
  }

  private onWord(at: number, item: Item): void {
    if (Object.hasOwn(LETTERS, item.said) && this.bankLetterAt(at)) return this.onBank(item.said)
    if (item.said === 'but' || item.said === 'or') {
      this.negated = item.said === 'or' && this.wasNegated
      return
    }
    // "Seventy three point millimetres": a piece of a number got lost.
    if (OF_NUMBERS.includes(item.said)) this.walk.noReading = true
    this.walk.unknown += 1
    this.walk.left.push(item.said)
    this.open = -1
  }

  private onTo(at: number): void {
    const before = this.items.at(at - 1)!
    if (this.walk.runs.length && (before.sort === 'number' || before.sort === 'unit')) this.walk.runs.at(-1)!.to = true
    this.open = -1
  }

  private onUnit(at: number, item: Item): void {
    this.walk.known += item.tokens.length
    const code = item.meanings[0]![1]
    const number = this.numberBefore(at)
    const run = number >= 0 ? this.walk.runs.at(-1) : undefined
    if (run && !run.unit) {
      run.unit = code
      run.unitSaid = this.items.slice(number + 1, at + 1).map((item) => item.said).join(' ')
    } else this.walk.units.push(code)
    this.open = -1
  }

  /** Where the number stands that is at once before, "of a" and the like between them; -1 for none. */
  private numberBefore(at: number): number {
    let before = at - 1
    while (before >= 0 && this.items[before]!.sort === 'phrase' && JOINING.includes(this.items[before]!.said)) before -= 1
    return before >= 0 && this.items[before]!.sort === 'number' ? before : -1
  }

  private onNumber(at: number, item: Item): void {
    this.walk.known += item.tokens.length
    if (this.negated) this.walk.noReading = true
    if (this.awaiting && this.open < 0 && this.partFollows(at)) {
      this.forward.push(item)
      this.awaiting = false
      return
    }
    if (this.awaiting && this.open < 0) this.ofScreen()
    const run = makeRun(item.tokens, this.open, this.awaiting && this.open >= 0)
    run.clock = has(this.items[at + 1], 'clock')
    this.awaiting = false
    this.open = -1
    if (this.between && this.splitBetween(run)) return
    this.walk.runs.push(run)
  }

  /** "Number three" and no part: one like that on the screen. */
  private ofScreen(): void {
    if (Object.hasOwn(PARTS, this.screenPart) && !this.walk.mentions.length) {
      this.onMention({ parts: [this.screenPart], context: false, loose: false, numbers: [] })
    } else this.walk.doubtful.push('place')
  }

  /** "between fifteen and twenty": two numbers, the second the upper end. */
  private splitBetween(run: Run): boolean {
    this.between = false
    const ands = run.tokens.flatMap((token, i) => (token.kind === 'word' && token.text === 'and' ? [i] : []))
    const [and] = ands
    if (ands.length !== 1 || !and || and >= run.tokens.length - 1) return false
    this.walk.runs.push({ ...makeRun(run.tokens.slice(0, and)), to: true }, makeRun(run.tokens.slice(and + 1)))
    return true
  }

  private partFollows(at: number): boolean {
    for (const item of this.items.slice(at + 1, at + 4)) {
      if (item.breaks) return false
      if (has(item, 'part', 'fastener')) return true
      if (!has(item, 'side', 'bank', 'bank_word', 'fillers')) return false
    }
    return false
  }

  private onPhrase(at: number, item: Item): void {
    const { walk } = this
    if (Object.hasOwn(LETTERS, item.said) && this.bankLetterAt(at)) return this.onBank(item.said)
    if (has(item, 'fillers') && item.meanings.length === 1) {
      // "Seventeen and a thou", "eight and": the end of it got lost.
      const cut = item.said === 'and' && !item.breaks && this.items[at - 1]?.sort === 'number'
      if (cut && walk.runs.length) walk.runs.at(-1)!.cut = true
      return
    }
    walk.known += item.tokens.length
    if (this.asWordOfSpeech(item) || this.asPoint(item) || this.namesPlace(at, item) || this.saysOfPlace(item)) return
    walk.left.push(item.said)
  }

  /** A part, a fastener, a side or a bank. */
  private namesPlace(at: number, item: Item): boolean {
    if (has(item, 'part')) {
      const parts = means(item, 'part')
      const settled = this.settles && parts.includes(this.screenPart) ? [this.screenPart] : parts
      this.onMention({ parts: settled, context: CYLINDER_WORDS.includes(item.said), loose: false, numbers: [] })
    } else if (has(item, 'fastener')) this.onMention({ parts: [], context: false, loose: true, numbers: [] })
    else if (has(item, 'side')) {
      this.walk.sides.push(...means(item, 'side'))
      this.open = this.walk.mentions.length - 1
    } else if (has(item, 'bank') && !has(item, 'bank_word')) this.onMaybeBank(at, item)
    else return has(item, 'bank_word')
    return true
  }

  /** A condition, a quantity, figures of another kind, what is to be done, or a point. */
  private saysOfPlace(item: Item): boolean {
    const { walk } = this
    if (has(item, 'condition')) this.onCondition(item)
    else if (has(item, 'quantity')) {
      walk.quantities.push(means(item, 'quantity'))
      this.open = -1
    } else if (has(item, 'other_figures')) {
      walk.otherFigure = true
      walk.left.push(item.said)
      this.open = -1
    } else if (has(item, 'disposition')) this.onDisposition(item)
    else if (has(item, 'point')) {
      walk.points.push([item.said, means(item, 'point')])
      this.open = -1
    } else return false
    return true
  }

  /** Words that say how the others are meant; a word of the workshop's that is just a word. */
  private asWordOfSpeech(item: Item): boolean {
    if (has(item, 'negations')) {
      this.negated = true
      this.byNo = item.said === 'no'
    } else if (has(item, 'clock', 'own')) this.open = -1
    else if (has(item, 'between')) this.between = true
    else if (has(item, 'separators')) this.open = -1
    else if (has(item, 'hedges', 'targets')) {
      this.walk.noReading = true
      this.doubted ||= TABLE.doubts.includes(item.said)
    }
    else if (has(item, 'unsure_units')) {
      this.walk.unsureUnit = true
      this.walk.left.push(item.said)
    } else return false
    this.open = -1
    return true
  }

  /** A word that names a part and a point: beside the part that has such a point it is the point. */
  private asPoint(item: Item): boolean {
    const pieces = means(item, 'point')
    const named = pieces.flatMap((piece) => NAMED_BY_POINT[piece] ?? [])[0]
    if (named && !this.walk.mentions.some((mention) => mention.parts.includes(named))) {
      this.onMention({ parts: [named], context: false, loose: false, numbers: [] })
    }
    let parts = this.walk.mentions.flatMap((mention) => mention.parts)
    if (has(item, 'other_figures') && !parts.length && this.screenPart) parts = [this.screenPart]
    const hasPoint = parts.some((part) => pointPieces(part).some((piece) => pieces.includes(piece)))
    if (!named && !(hasPoint && has(item, 'part', 'other_figures'))) return false
    this.walk.points.push([item.said, pieces])
    // On a screen of rings the number behind "top ring" is its gap.
    if (!named || named === this.screenPart) this.open = -1
    return true
  }

  private onMention(mention: Mention): void {
    const { mentions, runs } = this.walk
    const known = mentions.find((candidate) => takesUp(mention, candidate))
    if (known && !this.forward.length) {
      // "Main bearing two, renew the shells": the shells are those.
      known.parts = mention.parts.filter((part) => known.parts.includes(part))
      this.open = -1
      return
    }
    const same = mentions.findIndex((candidate) => candidate.loose === mention.loose && String(candidate.parts) === String(mention.parts))
    if (same >= 0 && !this.forward.length && !this.hasNumber(same)) {
      this.open = same
      return
    }
    mentions.push(mention)
    this.open = mentions.length - 1
    for (const given of this.forward) {
      if (given.sort === 'ordinal') {
        mention.numbers.push(given.meanings[0]![1])
        this.walk.known += 1
      } else runs.push(makeRun(given.tokens, this.open, true))
    }
    this.forward = []
  }

  private hasNumber(mention: number): boolean {
    return this.walk.mentions[mention]!.numbers.length > 0 || this.walk.runs.some((run) => run.mention === mention)
  }

  private bankLetterAt(at: number): boolean {
    const item = this.items[at]!
    if (at === 0 || item.breaks) return false
    const before = this.items[at - 1]!
    if (has(before, 'bank_word')) return true
    const banked = means(before, 'part').some((part) => PARTS[part]!.per === 'bank' || PARTS[part]!.at === 'bank')
    if (!banked || item.said !== 'a') return banked
    const following = this.items[at + 1]
    return !following || following.breaks || !canFollowA(following)
  }

  private onBank(letter: string): void {
    this.walk.known += 1
    this.walk.banks.push(letter)
    this.open = this.walk.mentions.length - 1
  }

  private onMaybeBank(at: number, item: Item): void {
    const name = means(item, 'bank')[0]!
    if (has(this.items[at - 1], 'bank_word') || has(this.items[at + 1], 'bank_word')) return this.onBank(name)
    this.walk.maybeBanks.push([item.said, name, means(item, 'point')])
  }

  private onCondition(item: Item): void {
    const { walk } = this
    const word = means(item, 'condition')[0]!
    if (this.negated) {
      walk.left.push(item.said)
      // "Scored no cracked": not cracked, or cracked and not scored?
      if (this.byNo && item.said === word && walk.conditions.length) walk.conditionDoubt = true
      this.negated = false
      this.wasNegated = true
    } else if (has(item, 'quantity')) walk.bending.push([word, means(item, 'quantity')[0]!])
    else if (!walk.conditions.includes(word)) {
      walk.conditions.push(word)
      walk.conditionDoubt ||= this.doubted
    }
    this.doubted = false
    this.open = -1
  }

  private onDisposition(item: Item): void {
    const code = means(item, 'disposition')[0]!
    if (this.negated) {
      this.walk.left.push(item.said)
      this.negated = false
    } else if (!this.walk.dispositions.includes(code)) this.walk.dispositions.push(code)
    this.open = -1
  }
}

/** "A crack", "a skim", "a badly ...": then "a" is no bank. "Head a cracked" and "head a replace it" speak of one. */
function canFollowA(item: Item): boolean {
  if (item.sort === 'word') return item.said !== 'but'
  const thing = has(item, 'condition') && !means(item, 'condition').includes(item.said)
  const work = String(means(item, 'disposition')) === 'rework' && item.tokens.length === 1
  return thing || work || MANNER.includes(item.said)
}

/** True when a word with several meanings speaks of what was named before it. */
function takesUp(mention: Mention, before: Mention): boolean {
  const shared = mention.parts.some((part) => before.parts.includes(part))
  return mention.parts.length > 1 && before.parts.length < mention.parts.length && shared
}

/**
 * What was named in the items, in order. `screenPart`: the part that the phone shows, "" for none; `settles`: it is what a
 * word with several meanings means.
 */
export function walk(items: Item[], screenPart: string, settles: boolean): Walk {
  return new Walker(items, screenPart, settles).go()
}
