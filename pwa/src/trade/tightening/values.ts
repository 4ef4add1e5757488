// What was recorded of one fastener, held against what its stage asks for, and whether the tool fits. The twin of
// trade/tightening/values.py. Everything is compared as exact fractions; nothing is refused here.

import { compare, exactText, minus, plus, times } from '../ground/amounts.ts'
import * as described from '../ground/described.ts'
import { Refusal } from '../ground/errors.ts'
import type { Sort } from './departures.ts'
import type { Method, TighteningStage } from './stages.ts'
import { convert, fraction, read, type Fraction, type Reading, UNITS } from '../ground/units.ts'
import type { Tap } from './entries.ts'

/** Sort of departure, its sentence. */
export type Found = [sort: Sort, words: string]

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
export interface ToolSaid {
  entry: string
  tool: ToolInHand
  claimed: string
}

export const TOOLS: Record<string, string> = {
  click: 'a click wrench',
  dial: 'a dial wrench',
  electronic: 'an electronic wrench',
  beam: 'a beam wrench',
  angle_gauge: 'an angle gauge',
}
/** Letting go takes any tool. */
export const FITS: Partial<Record<Method, string[]>> = {
  torque: ['click', 'dial', 'electronic', 'beam'],
  angle: ['angle_gauge', 'electronic'],
}
export const BY: Record<string, string> = {
  torque: 'by torque',
  angle: 'by angle',
  stretch: 'by stretch',
  feel: 'by feel',
  release: 'by letting go',
}
export const DONE: Record<Method, string> = { torque: 'tightened', angle: 'turned', release: 'let go' }
export const STATE: Record<string, string> = {
  dry: 'dry',
  oiled: 'oiled',
  sealant: 'with sealant',
  locking: 'with locking compound',
  new: 'new',
  used: 'used before',
}
/** States that exclude each other. */
export const STATES = [['dry', 'oiled', 'sealant', 'locking'], ['new', 'used']]
export const REACHED: Record<Method, string> = { torque: 'tightened to', angle: 'turned by', release: 'let go at' }
/** A click wrench is used in this upper part of its range; ISO 6789-1 has it calibrated at 20, 60 and 100 per cent. */
export const CLICK_FROM: Fraction = fraction(20n, 100n)

/** The target as it is said: `60 N·m`. */
export const wanted = (stage: TighteningStage) => `${stage.target} ${stage.unit}`.trim()

/**
 * Over, under or not comparable. A tap says that the tool reached its target, so it is never either; a stage without a
 * target takes any value.
 */
export function valueFound(stage: TighteningStage, label: string, body: Tap): Found | null {
  if (stage.target === '' || body.given === 'tap') return null
  const start = `${stage.words}: fastener ${label} was`
  const reading = readOrNull(body.value, body.unit)
  if (!reading || UNITS[reading.unit]!.kind !== UNITS[stage.unit]!.kind) {
    const typed = body.value.trim() ? `as ${body.value} ${body.unit}`.trimEnd() : 'without a value'
    return ['other_unit', `${start} recorded ${typed}, which cannot be compared with ${wanted(stage)}.`]
  }
  const amount = convert(reading.amount, reading.unit, stage.unit)
  const target = described.exact(stage.target)
  const [low, high] = [minus(target, described.exact(stage.minus)), plus(target, described.exact(stage.plus))]
  const written = body.value.trim()
  let said = readOrNull(written, '')?.unit ? written : `${written} ${reading.unit}`
  if (reading.unit !== stage.unit) said += ` (${exactText(amount)} ${stage.unit})`
  const reached = `${start} ${REACHED[stage.method]} ${said}`
  if (compare(amount, high) > 0) return ['over', `${reached}, above the ${exactText(high)} ${stage.unit} allowed.`]
  if (compare(amount, low) < 0) return ['under', `${reached}, below the ${exactText(low)} ${stage.unit} asked for.`]
  return null
}

/** Done by another method than the stage asks for. */
export function methodFound(stage: TighteningStage, label: string, body: Tap): Found | null {
  if (body.method === stage.method) return null
  const done = `${stage.words}: fastener ${label} was done ${BY[body.method] ?? body.method}`
  return ['wrong_tool', `${done}; the stage asks for it ${BY[stage.method]}.`]
}

/**
 * What is wrong with a tool for a stage: its sort, its date, its range. `setValue` is what it was set to when that is
 * not the target (a crow-foot or an extension in line), `claimed` the time of the tap. `counted` is
 * how many fasteners the record had counted for the tool by then, null when nobody counted.
 */
export function toolFound(
  stage: TighteningStage,
  tool: ToolInHand,
  setValue: string,
  claimed: string,
  counted: number | null = null,
): Found[] {
  const { words } = stage
  const found: Found[] = []
  const fits = FITS[stage.method]
  if (fits && Object.hasOwn(TOOLS, tool.sort) && !fits.includes(tool.sort)) {
    const method = stage.method === 'torque' ? 'torque' : 'an angle'
    found.push(['wrong_tool', `${words}: ${tool.name} is ${TOOLS[tool.sort]}, which does not fit ${method}.`])
  } else if (fits) {
    const reason = outside(stage, tool, setValue)
    if (reason) found.push(['out_of_range', `${words}: ${reason}`])
  }
  if (tool.due && claimed.slice(0, 10) > tool.due) {
    found.push(['overdue_tool', `${words}: the calibration of ${tool.name} was due on ${tool.due}.`])
  }
  if (tool.retired) found.push(['wrong_tool', `${words}: ${tool.name} is out of use.`])
  const since = counted === null ? 0 : counted - tool.cycles_at_calibration
  if (tool.cycles_most > 0 && since > tool.cycles_most) {
    const said = `since its calibration ${tool.name} had done ${since} cycles; it is due after ${tool.cycles_most}.`
    found.push(['overdue_count', `${words}: ${said}`])
  }
  return found
}

/**
 * The thread was in another state than the sheet asks for. Dry, oiled and the like are held against each other, and new
 * against used; letting go takes any.
 */
export function stateFound(asked: string, stage: TighteningStage, state: string): Found | null {
  const alike = STATES.some((group) => group.includes(asked) && group.includes(state))
  if (stage.method === 'release' || asked === state || !alike) return null
  return ['other_state', `${stage.words}: the thread was ${STATE[state]}; the sheet asks for it ${STATE[asked]}.`]
}

/** The ends, in the tool's unit, between which it is used: its range, of a click wrench 20 to 100 % of it. */
export function usable(tool: ToolInHand): [low: Fraction | null, high: Fraction | null] {
  const [low, high] = [described.amount(tool.low), described.amount(tool.high)]
  if (tool.sort !== 'click' || !high) return [low, high]
  const least = times(high, CLICK_FROM)
  return [!low || compare(low, least) < 0 ? least : low, high]
}

/**
 * The tool of a tap as it was described then, from descriptions in the order of the log: the one that the tap's basis
 * names, else the newest claimed before the tap, else the first.
 */
export function toolOf(tools: readonly ToolSaid[], body: Tap, claimed: string): ToolInHand | null {
  const said = tools.filter((one) => body.tool_id !== '' && one.tool.id === body.tool_id)
  if (!said.length) return null
  const named = said.find((one) => body.basis.includes(one.entry))
  const before = said.findLast((one) => Date.parse(one.claimed) <= Date.parse(claimed))
  return (named ?? before ?? said[0]!).tool
}

function outside(stage: TighteningStage, tool: ToolInHand, setValue: string): string {
  const typed = setValue ? readOrNull(setValue, '') : null
  const reading = typed ? { ...typed, unit: typed.unit || stage.unit } : readOrNull(stage.target, stage.unit)
  if (!reading || UNITS[reading.unit]!.kind !== UNITS[tool.unit]!.kind) return ''
  const [low, high] = usable(tool)
  const amount = convert(reading.amount, reading.unit, tool.unit)
  if ((!low || compare(low, amount) <= 0) && (!high || compare(amount, high) <= 0)) return ''
  const ends = [low ? `from ${exactText(low)}` : '', high ? `to ${exactText(high)}` : ''].filter(Boolean).join(' ')
  const share = tool.sort === 'click' ? ', 20 to 100 % of its range' : ''
  const shown = `${exactText(reading.amount)} ${reading.unit}`.trimEnd()
  return `${shown} lies outside what ${tool.name} is used for, ${ends} ${tool.unit}${share}.`
}

function readOrNull(value: string, unit: string): Reading | null {
  try {
    return read(value, unit)
  } catch (error) {
    if (error instanceof Refusal) return null
    throw error
  }
}
