// What was recorded of one fastener, held against what its stage asks for, and whether the tool fits. The twin of
// trade/tightening/values.py. Everything is compared as exact fractions; nothing is refused here.

import { compare, exactText, minus, plus, times } from '../ground/amounts.ts'
import * as described from '../ground/described.ts'
import { orNull } from '../ground/errors.ts'
import type { Sort } from './departures.ts'
import type { Method, TighteningStage } from './stages.ts'
import { say } from '../ground/say.ts'
import { convert, fraction, read, type Fraction, UNITS } from '../ground/units.ts'
import type { Tap } from './entries.ts'

/** Sort of departure, its sentence. */
export type Objection = [sort: Sort, words: string]

/** What a run reads of a torque tool. */
export interface ToolInHand {
  id: string
  name: string
  sort: string
  unit: string
  low: string
  high: string
  due: string
  retired: boolean
  cycles_most: number
  cycles_at_calibration: number
}

/** One description of a tool: the entry it stands in, and when it was claimed. */
export interface ToolStatement {
  entry: string
  tool: ToolInHand
  claimed: string
}

const TOOLS: Record<string, string> = {
  click: say('tightening.tool.click'),
  dial: say('tightening.tool.dial'),
  electronic: say('tightening.tool.electronic'),
  beam: say('tightening.tool.beam'),
  angle_gauge: say('tightening.tool.angle_gauge'),
}
/** Letting go takes any tool. */
export const FITS: Partial<Record<Method, string[]>> = {
  torque: ['click', 'dial', 'electronic', 'beam'],
  angle: ['angle_gauge', 'electronic'],
}
const BY: Record<string, string> = {
  torque: say('tightening.by.torque'),
  angle: say('tightening.by.angle'),
  stretch: say('tightening.by.stretch'),
  feel: say('tightening.by.feel'),
  release: say('tightening.by.release'),
}
export const STATE: Record<string, string> = {
  dry: say('tightening.state.dry'),
  oiled: say('tightening.state.oiled'),
  sealant: say('tightening.state.sealant'),
  locking: say('tightening.state.locking'),
  new: say('tightening.state.new'),
  used: say('tightening.state.used'),
}
/** States that exclude each other. */
const STATES = [['dry', 'oiled', 'sealant', 'locking'], ['new', 'used']]
// Sentences by the method of the stage.
export const AGAIN = { torque: 'tightening.again.torque', angle: 'tightening.again.angle', release: 'tightening.again.release' } as const
export const OUT_OF_TURN = {
  torque: 'tightening.out_of_turn.torque',
  angle: 'tightening.out_of_turn.angle',
  release: 'tightening.out_of_turn.release',
} as const
export const STILL_TO_BE = {
  torque: 'tightening.still_to_be.torque',
  angle: 'tightening.still_to_be.angle',
  release: 'tightening.still_to_be.release',
} as const
const ABOVE = { torque: 'tightening.above.torque', angle: 'tightening.above.angle', release: 'tightening.above.release' } as const
const BELOW = { torque: 'tightening.below.torque', angle: 'tightening.below.angle', release: 'tightening.below.release' } as const
/** A click wrench is used in this upper part of its range; ISO 6789-1 has it calibrated at 20, 60 and 100 per cent. */
export const CLICK_FROM: Fraction = fraction(20n, 100n)

/** The target as it is said: `60 N·m`. */
const wanted = (stage: TighteningStage) => `${stage.target} ${stage.unit}`.trim()

/**
 * Over, under or not comparable. A tap says that the tool reached its target, so it is never either; a stage without a
 * target takes any value.
 */
export function valueObjection(stage: TighteningStage, label: string, body: Tap): Objection | null {
  if (stage.target === '' || body.given === 'tap') return null
  const about = { stage: stage.words, fastener: label }
  const reading = orNull(() => read(body.value, body.unit))
  if (!reading || UNITS[reading.unit]!.kind !== UNITS[stage.unit]!.kind) {
    const against = { ...about, target: wanted(stage) }
    if (!body.value.trim()) return ['other_unit', say('tightening.value_missing', against)]
    const value = `${body.value} ${body.unit}`.trimEnd()
    return ['other_unit', say('tightening.value_not_comparable', { ...against, value })]
  }
  const amount = convert(reading.amount, reading.unit, stage.unit)
  const target = described.exact(stage.target)
  const [low, high] = [minus(target, described.exact(stage.minus)), plus(target, described.exact(stage.plus))]
  const written = body.value.trim()
  let words = orNull(() => read(written, ''))?.unit ? written : `${written} ${reading.unit}`
  if (reading.unit !== stage.unit) words += ` (${exactText(amount)} ${stage.unit})`
  const reached = { ...about, value: words, unit: stage.unit }
  if (compare(amount, high) > 0) return ['over', say(ABOVE[stage.method], { ...reached, limit: exactText(high) })]
  if (compare(amount, low) < 0) return ['under', say(BELOW[stage.method], { ...reached, limit: exactText(low) })]
  return null
}

/** Done by another method than the stage asks for. */
export function methodObjection(stage: TighteningStage, label: string, body: Tap): Objection | null {
  if (body.method === stage.method) return null
  const about = { stage: stage.words, fastener: label, done: BY[body.method] ?? body.method, wanted: BY[stage.method]! }
  return ['wrong_tool', say('tightening.other_method', about)]
}

/**
 * What is wrong with a tool for a stage: its sort, its date, its range. `setValue` is what it was set to when that is
 * not the target (a crow-foot or an extension in line), `claimed` the time of the tap. `counted` is
 * how many fasteners the record had counted for the tool by then, null when nobody counted.
 */
export function toolObjections(
  stage: TighteningStage,
  tool: ToolInHand,
  setValue: string,
  claimed: string,
  counted: number | null = null,
): Objection[] {
  const { words } = stage
  const objections: Objection[] = []
  const fits = FITS[stage.method]
  if (fits && Object.hasOwn(TOOLS, tool.sort) && !fits.includes(tool.sort)) {
    const about = { stage: words, tool: tool.name, sort: TOOLS[tool.sort]! }
    const unfit =
      stage.method === 'torque' ? say('tightening.not_for_torque', about) : say('tightening.not_for_angle', about)
    objections.push(['wrong_tool', unfit])
  } else if (fits) {
    const reason = outside(stage, tool, setValue)
    if (reason) objections.push(['out_of_range', reason])
  }
  if (tool.due && claimed.slice(0, 10) > tool.due) {
    objections.push(['overdue_tool', say('tightening.was_due', { stage: words, tool: tool.name, day: tool.due })])
  }
  if (tool.retired) objections.push(['wrong_tool', say('tightening.tool_out_of_use', { stage: words, tool: tool.name })])
  const since = counted === null ? 0 : counted - tool.cycles_at_calibration
  if (tool.cycles_most > 0 && since > tool.cycles_most) {
    const about = { stage: words, tool: tool.name, done: since, most: tool.cycles_most }
    objections.push(['overdue_count', say('tightening.was_due_by_count', about)])
  }
  return objections
}

/**
 * The thread was in another state than the sheet asks for. Dry, oiled and the like are held against each other, and new
 * against used; letting go takes any.
 */
export function stateObjection(expected: string, stage: TighteningStage, state: string): Objection | null {
  const alike = STATES.some((group) => group.includes(expected) && group.includes(state))
  if (stage.method === 'release' || expected === state || !alike) return null
  const about = { stage: stage.words, state: STATE[state]!, wanted: STATE[expected]! }
  return ['other_state', say('tightening.other_state', about)]
}

/** The ends, in the tool's unit, between which it is used: its range, of a click wrench 20 to 100 % of it. */
export function usable(tool: ToolInHand): [low: Fraction | null, high: Fraction | null] {
  const [low, high] = [described.amount(tool.low), described.amount(tool.high)]
  if (tool.sort !== 'click' || !high) return [low, high]
  const least = times(high, CLICK_FROM)
  return [!low || compare(low, least) < 0 ? least : low, high]
}

/** The ends between which a tool is used, in words; it has one at least. */
export function rangeWords(tool: ToolInHand): string {
  const [low, high] = usable(tool)
  const { unit } = tool
  if (!low) return say('tightening.range.high', { high: exactText(high!), unit })
  if (!high) return say('tightening.range.low', { low: exactText(low), unit })
  return say('tightening.range.both', { low: exactText(low), high: exactText(high), unit })
}

/**
 * The tool of a tap as it was described then, from descriptions in the order of the log: the one that the tap's basis
 * names, else the newest claimed before the tap, else the first.
 */
export function toolOf(tools: readonly ToolStatement[], body: Tap, claimed: string): ToolInHand | null {
  const statements = tools.filter((statement) => body.tool_id !== '' && statement.tool.id === body.tool_id)
  if (!statements.length) return null
  const named = statements.find((statement) => body.basis.includes(statement.entry))
  const before = statements.findLast((statement) => Date.parse(statement.claimed) <= Date.parse(claimed))
  return (named ?? before ?? statements[0]!).tool
}

function outside(stage: TighteningStage, tool: ToolInHand, setValue: string): string {
  const typed = setValue ? orNull(() => read(setValue, '')) : null
  const reading = typed ? { ...typed, unit: typed.unit || stage.unit } : orNull(() => read(stage.target, stage.unit))
  if (!reading || UNITS[reading.unit]!.kind !== UNITS[tool.unit]!.kind) return ''
  const [low, high] = usable(tool)
  const amount = convert(reading.amount, reading.unit, tool.unit)
  if ((!low || compare(low, amount) <= 0) && (!high || compare(amount, high) <= 0)) return ''
  const shown = `${exactText(reading.amount)} ${reading.unit}`.trimEnd()
  const about = { stage: stage.words, value: shown, tool: tool.name, range: rangeWords(tool) }
  return tool.sort === 'click' ? say('tightening.stage_beyond_click', about) : say('tightening.stage_beyond_tool', about)
}
