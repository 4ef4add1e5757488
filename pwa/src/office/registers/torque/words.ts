// How torque tools are said in the office.

import { exactText } from '../../../trade/ground/amounts.ts'
import { CLASSES, deviation, SORTS, type TorqueTool } from '../../../trade/tightening/tools.ts'
import { usable } from '../../../trade/tightening/values.ts'
import { UNITS } from '../../../trade/ground/units.ts'

export function sortWords(code: string): string {
  return SORTS[code]?.words ?? code.replaceAll('_', ' ')
}

/** "20 to 100 N·m" */
export function rangeWords({ low, high, unit }: TorqueTool): string {
  if (low && high) return `${low} to ${high} ${unit}`
  return high ? `up to ${high} ${unit}` : low ? `from ${low} ${unit}` : unit
}

/** What a click wrench is used for, when that is less than its range; "" otherwise. */
export function usedWords(tool: TorqueTool): string {
  const [low, high] = usable(tool)
  if (tool.sort !== 'click' || !low || !high) return ''
  return `used from ${exactText(low)} to ${exactText(high)} ${tool.unit}: 20 to 100 % of its range`
}

/** "±4 %, ISO 6789-1, class II A"; "not known" where nobody said and no class gives it. */
export function deviationWords(tool: TorqueTool): [value: string, from: string] {
  const [amount, from] = deviation(tool)
  return amount ? [`±${exactText(amount)} %`, from] : ['not known', '']
}

/** The units that a sort of tool goes by. */
export function unitsFor(sort: string): { value: string; words: string }[] {
  return Object.entries(UNITS)
    .filter(([code, { kind }]) => code && kind === SORTS[sort]?.kind)
    .map(([value, { words }]) => ({ value, words: value === words ? value : `${value}, ${words}` }))
}

/** The classes of ISO 6789-1 that a sort can have. */
export function classesFor(sort: string): { value: string; words: string }[] {
  const type = SORTS[sort]?.type
  const own = Object.values(CLASSES).filter(({ code }) => type && code.split(' ')[0] === type)
  return [{ value: '', words: 'not said' }, ...own.map(({ code, words }) => ({ value: code, words: `${code}, ${words}` }))]
}

/** "calibrated anew after 5000 fasteners" */
export function cyclesWords({ cycles_most, cycles_at_calibration }: TorqueTool): string {
  if (!cycles_most) return 'not counted'
  return `after ${cycles_most}${cycles_at_calibration ? `, counted from ${cycles_at_calibration}` : ''}`
}
