// The machining step for all bores or journals of a sheet, put into words. The twin of trade/machining_proposal.py.

import { compare, minus, NOTHING } from '../ground/amounts.ts'
import { machine, type Machining, type Tried } from './machining.ts'
import { type Amount, type Asked, given, proposal } from './parts.ts'
import type { Proposal } from './types.ts'
import type { SheetPlace } from '../sheets/types.ts'

const [BORES, JOURNALS] = [
  ['bore', 'housing'],
  ['journal', 'pin'],
]
const FORMULA = {
  bores: 'target = nominal + step; a step cleans up when target - stock is no less than the largest reading',
  journals: 'target = nominal - step; a step cleans up when target + stock is no more than the smallest reading',
}
const CAUTIONS = {
  bores: [
    "Measure the piston first: bore and hone to the piston that is there, with its maker's running clearance.",
    "The maker's largest oversize and the wall that is left count before any step.",
    'A step is what its label says: 0.25 mm is not 10 thou.',
  ],
  journals: [
    "Measure the shells first: grind to the bearing that is there, with its maker's clearance.",
    "Fillets, hardening and the maker's smallest undersize count before any step.",
    'A step is what its label says: 0.25 mm is not 10 thou.',
  ],
}
const NO_STOCK = 'No stock to leave is set for this engine type: nothing was allowed for.'

/** The reading of one place that asks for most. */
interface Worst {
  place: SheetPlace
  reading: string
  amount: Amount
}

/**
 * One proposal for each nominal size that has steps: all places with that size are cut to one step. Only from what was
 * found: a part just machined is at its size.
 */
export function proposals(asked: Asked): Proposal[] {
  const bores = BORES!.includes(asked.sheet.drawing)
  if (asked.sheet.state !== 'as_found' || (!bores && !JOURNALS!.includes(asked.sheet.drawing))) return []
  const groups = new Map<string, SheetPlace[]>()
  for (const place of asked.sheet.places) {
    const [nominal, steps] = [asked.single('nominal', place.place), stepsOf(asked, place.place)]
    if (!nominal || !steps.length) continue
    const key = [nominal, ...steps].map((one) => one.text).join('|')
    groups.set(key, [...(groups.get(key) ?? []), place])
  }
  return [...groups.values()].map((places) => propose(asked, places, bores)).filter((one): one is Proposal => one !== null)
}

function propose(asked: Asked, places: SheetPlace[], bores: boolean): Proposal | null {
  const worst = places.map((place) => worstOf(asked, place, bores)).filter((one): one is Worst => one !== null)
  const there = places[0]!.place
  const [nominal, steps, typedStock] = [asked.single('nominal', there), stepsOf(asked, there), asked.single('stock', there)]
  const stock = typedStock && typedStock.si.over >= 0n ? typedStock : null
  const pistons = bores ? asked.size('pistons', there) : []
  if (!worst.length || !nominal) return null
  const made = machine(
    worst.map((one) => one.amount.si),
    nominal.si,
    steps.map((one) => one.si),
    stock?.si ?? NOTHING,
    bores,
    pistons.length ? pistons.map((one) => one.si) : null,
  )
  const forced = worst[made.forcedBy]!
  const missing = places.filter((one) => !one.done)
  const soFar = missing.length && made.chosen ? ', as far as measured' : ''
  return proposal(
    'machining',
    `${asked.sheet.name}, if machined: ${outcome(made, steps, nominal, bores)}${soFar}`,
    linesOf(made, steps, nominal, forced, missing),
    bores ? FORMULA.bores : FORMULA.journals,
    {
      inputs: [
        ...given('nominal size', [nominal]),
        ...given('steps', steps),
        ...given('stock to leave on the diameter', [stock]),
        ...given('piston oversizes that can be had', pistons),
        {
          name: `${bores ? 'largest' : 'smallest'} reading`,
          value: forced.amount.text,
          source: `${forced.place.name}${comma(forced.reading)}`,
        },
      ],
      cautions: [...(stock ? [] : [NO_STOCK]), ...(bores ? CAUTIONS.bores : CAUTIONS.journals)],
      forced_by: { place: forced.place.place, reading: forced.reading, value: forced.amount.text },
    },
  )
}

// The steps that are steps: a 0 for the standard size, as some lists have it, is none.
const stepsOf = (asked: Asked, place: string): Amount[] => asked.size('steps', place).filter((one) => one.si.over > 0n)

// From the figure, which is corrected to 20 °C; from the bare readings where there is none, or not yet: one bad reading
// asks for its step before the others are taken.
function worstOf(asked: Asked, place: SheetPlace, bores: boolean): Worst | null {
  const figure = asked.madeBy(bores ? 'largest' : 'smallest')
  const amount = asked.figure(place, figure)
  if (amount) {
    const { from } = place.figures.find((one) => one.code === figure)!
    return { place, reading: from.length === 1 ? asked.words(from[0]!) : '', amount }
  }
  const read = asked.ofTheSize().flatMap((code) => {
    const one = asked.reading(place, code)
    return one ? [{ place, reading: asked.words(code), amount: one }] : []
  })
  if (!read.length) return null
  return read.reduce((a, b) => ((bores ? 1 : -1) * compare(b.amount.si, a.amount.si) > 0 ? b : a))
}

function outcome({ chosen }: Machining, steps: Amount[], nominal: Amount, bores: boolean): string {
  if (!chosen) return bores ? 'no step left: sleeve or replace' : 'no step left: replace or refer'
  return `${bores ? 'oversize' : 'undersize'} ${stepText(chosen, steps)}, target ${nominal.say(chosen.target)}`
}

function linesOf({ tried }: Machining, steps: Amount[], nominal: Amount, forced: Worst, missing: SheetPlace[]): string[] {
  const said = [`Forced by ${forced.place.name}${comma(forced.reading)}: ${forced.amount.text}.`]
  for (const one of tried) {
    const step = stepText(one, steps)
    if (one.short.over > 0n) said.push(`${step} does not clean up: ${nominal.say(one.short)} is missing.`)
    else if (!one.listed) said.push(`${step} would clean up, but no piston of this step is listed: passed over.`)
    else {
      const left = minus(one.target, forced.amount.si)
      const size = { ...left, over: left.over < 0n ? -left.over : left.over }
      said.push(`${step} cleans up: ${nominal.say(size)} is left to cut there, on the diameter.`)
    }
  }
  const names = missing.map((one) => one.name).join(', ')
  if (names) said.push(`Not measured in full: ${names}. A worse reading there can ask for more.`)
  return said
}

const stepText = (tried: Tried, steps: Amount[]): string => steps.find((one) => compare(one.si, tried.step) === 0)!.text
const comma = (words: string): string => (words ? `, ${words}` : '')
