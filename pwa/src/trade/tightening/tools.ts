// The workshop's torque tools: what is written down of one, whether it is overdue, what it can be used for. The twin of
// tightening/tools.py, which checks them and says what the fields mean.

import table from '../../../../server/witnessmark/trade/data/torque_tools.json'
import { by, compare, exactText, inUnit, plus, times, whole } from '../ground/amounts.ts'
import * as described from '../ground/described.ts'
import { Refusal } from '../ground/errors.ts'
import { roundDown, significant } from '../ground/exact.ts'
import { say } from '../ground/say.ts'
import type { Method } from './stages.ts'
import { CLICK_FROM, FITS, rangeWords, usable } from './values.ts'
import { convert, type Fraction, fromSi, read, toSi, UNITS } from '../ground/units.ts'

/** Numbers are decimal text in `unit`; days are 2026-05-14, or "" when nobody said. */
export interface TorqueTool {
  id: string
  name: string
  sort: string
  serial: string
  unit: string
  low: string
  high: string
  class: string
  /** Per cent of the value, plus or minus; "" for what its class permits. */
  deviation: string
  calibrated: string
  due: string
  /** How many fasteners until it is calibrated again; 0: they are not counted. */
  cycles_most: number
  /** How many the record had counted when it was calibrated. */
  cycles_at_calibration: number
  certificate: string
  retired: boolean
  notes: string
}

export interface ToolSort {
  code: string
  words: string
  kind: string
  /** The type of ISO 6789-1 that its class is of, "" where there is none. */
  type: string
  usual: string
}

export interface ToolClass {
  code: string
  words: string
  small: string
  large: string
}

export type Against = [sort: 'retired' | 'wrong_tool' | 'other_unit' | 'out_of_range', words: string]

export const SORTS: Record<string, ToolSort> = Object.fromEntries(table.sorts.map((sort) => [sort.code, sort]))
export const CLASSES: Record<string, ToolClass> = Object.fromEntries(table.classes.map((toolClass) => [toolClass.code, toolClass]))
const SMALL_TO: Fraction = described.exact(table.small_to) // N·m
export const CYCLES_MOST = 5000
export const EXTENSION_FORMULA = say('tightening.extension.formula')
export const EXTENSION_CAUTIONS = [say('tightening.extension.lengths'), say('tightening.extension.angle')]

const largest = (tool: TorqueTool) => (tool.high ? toSi(described.exact(tool.high), tool.unit) : null)

/**
 * What a class of ISO 6789-1 permits, in per cent of the value; `most` is the tool's largest torque in N·m. A tool
 * whose range nobody knows gets the wider of the two.
 */
function permittedBy(code: string, most: Fraction | null): Fraction {
  const both = CLASSES[code]!
  return described.exact(!most || compare(most, SMALL_TO) <= 0 ? both.small : both.large)
}

/**
 * What a sound tool may be off in per cent of the value, and where that comes from; null for an angle gauge of which
 * nobody said.
 */
export function deviation(tool: TorqueTool): [percent: Fraction | null, from: string] {
  if (tool.deviation) return [described.exact(tool.deviation), say('tightening.torque_tool.as_stated')]
  if (tool.class) return [permittedBy(tool.class, largest(tool)), say('tightening.torque_tool.by_class', { code: tool.class })]
  const { usual } = SORTS[tool.sort]!
  if (usual) return [permittedBy(usual, largest(tool)), say('tightening.torque_tool.by_usual_class', { code: usual })]
  return [null, say('tightening.torque_tool.not_known')]
}

/**
 * True when the tool is used for an amount in SI: within its range, a click wrench between 20 % and 100 % of it. The
 * ends belong to it.
 */
function inRange(tool: TorqueTool, amount: Fraction): boolean {
  const [low, high] = usable(tool)
  const inside = fromSi(amount, tool.unit)
  return (!low || compare(low, inside) <= 0) && (!high || compare(inside, high) <= 0)
}

/**
 * What speaks against a tool for a stage; nothing when it fits. Letting go takes any tool and any value, and so does a
 * target that is empty. Throws Refusal for a target that is no number and for an unknown unit.
 */
export function fits(tool: TorqueTool, method: Method, target: string, unit: string): Against[] {
  const { name } = tool
  const objections: Against[] = tool.retired ? [['retired', say('tightening.torque_tool.out_of_use', { tool: name })]] : []
  const wanted = FITS[method]
  if (!wanted) return objections
  if (!wanted.includes(tool.sort)) {
    const about = { tool: name, sort: SORTS[tool.sort]!.words }
    const words =
      method === 'torque'
        ? say('tightening.torque_tool.not_for_torque', about)
        : say('tightening.torque_tool.not_for_angle', about)
    return [...objections, ['wrong_tool', words]]
  }
  if (target === '') return objections
  const reading = read(target, unit)
  const { kind } = UNITS[reading.unit]!
  const typed = `${exactText(reading.amount)} ${reading.unit}`.trimEnd()
  if (kind !== method) {
    const about = { value: typed }
    const words =
      method === 'torque'
        ? say('tightening.torque_tool.no_torque', about)
        : say('tightening.torque_tool.no_angle', about)
    return [...objections, ['other_unit', words]]
  }
  if (kind !== UNITS[tool.unit]!.kind || inRange(tool, toSi(reading.amount, reading.unit))) return objections
  return [...objections, ['out_of_range', outOfRange(tool, convert(reading.amount, reading.unit, tool.unit), typed)]]
}

function outOfRange(tool: TorqueTool, amount: Fraction, words: string): string {
  const about = { value: words, tool: tool.name, range: rangeWords(tool) }
  const all = described.amount(tool.high)
  if (tool.sort === 'click' && all && compare(amount, times(all, CLICK_FROM)) < 0) {
    const share = roundDown(by(times(amount, whole(100)), all), 2)
    return say('tightening.torque_tool.low_in_range', { ...about, share })
  }
  return say('tightening.torque_tool.beyond', about)
}

/**
 * What to set a wrench to so that the fastener gets `torque`, in its unit. `length` from the square drive to the middle
 * of the grip, `extension` of a crow-foot or extension from there to the fastener, both in one unit of length. At a
 * right angle it changes nothing. Throws Refusal for lengths that cannot be.
 */
export function setValue(torque: Fraction, length: Fraction, extension: Fraction, inLine = true): Fraction {
  if (length.over <= 0n) {
    throw new Refusal('bad_value', 'length', say('tightening.torque_tool.length'))
  }
  if (extension.over < 0n) {
    throw new Refusal('bad_value', 'extension', say('tightening.torque_tool.extension'))
  }
  return inLine ? by(times(torque, length), plus(length, extension)) : torque
}

/** A set value in SI as it is said: four digits that count, in `unit`. */
export function setText(amount: Fraction, unit: string): string {
  const four = described.exact(significant(fromSi(amount, unit), 4))
  return inUnit(toSi(four, unit), unit)
}
