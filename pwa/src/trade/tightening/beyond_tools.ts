// Whether the workshop has a wrench for what a tightening sheet asks. The twin of trade/beyond_tools.py.

import type { Fault } from '../ground/errors.ts'
import type { TighteningSheet } from './sheets.ts'
import { FITS } from './values.ts'
import { fits, type TorqueTool } from './tools.ts'

/** The torque stages of a sound sheet that no tool of the register in use can do; none while it has no such tool. */
export function beyondTools(sheet: Pick<TighteningSheet, 'joint' | 'stages'>, register: Iterable<TorqueTool>): Fault[] {
  const tools = [...register].filter((tool) => FITS.torque!.includes(tool.sort) && !tool.retired)
  if (!tools.length) return []
  return sheet.stages.flatMap(({ method, target, unit }, index) => {
    if (method !== 'torque' || tools.some((tool) => !fits(tool, 'torque', target, unit).length)) return []
    const asked = `Stage ${index + 1}: ${target} ${unit} for ${sheet.joint} is outside what each torque tool is used for`
    const names = tools.map(({ name }) => name).join(', ')
    return [{ where: `stages.${index}.target`, message: `${asked}: ${names}. Look at it, or describe the tool first.` }]
  })
}
