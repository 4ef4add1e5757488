// The fields of a torque tool in the register.

import { usualUnit } from '../../../trade/ground/units.ts'
import { CYCLES_MOST, SORTS, type TorqueTool } from '../../../trade/tightening/tools.ts'
import { say } from '../../frame/say.ts'
import { always, type FormField } from '../form/schema.ts'
import { classesFor, knownDeviation, unitsFor, usedWords } from './wording.ts'

/** A torque tool with nothing filled in. */
export function newTool(): TorqueTool {
  return {
    ...{ id: '', name: '', sort: 'click', serial: '', unit: usualUnit('torque'), low: '', high: '', class: '', deviation: '' },
    ...{ calibrated: '', due: '', cycles_most: CYCLES_MOST, cycles_at_calibration: 0, certificate: '', retired: false, notes: '' },
  }
}

/** Another type of tool; unit and class stay where that type can have them. */
function withSort(sort: string, tool: TorqueTool): Partial<TorqueTool> {
  const units = unitsFor(sort).map(({ value }) => value)
  const unit = units.includes(tool.unit) ? tool.unit : (units.find((code) => code === usualUnit('angle')) ?? units[0] ?? '')
  const fits = classesFor(sort).some(({ value }) => value === tool.class)
  return { sort, unit, ...(!fits && { class: '' }) }
}

function deviationHint(tool: TorqueTool, sound: boolean): string {
  const known = sound ? knownDeviation({ ...tool, deviation: '' }) : null
  return known ? say('tools.deviation_if_empty', known) : ''
}

export const TOOL_FIELDS: FormField<TorqueTool>[] = [
  { control: 'text', field: 'name', label: 'common.name', needed: always, hint: 'tools.name_hint' },
  {
    control: 'choice',
    field: 'sort',
    label: 'tools.type',
    options: () => Object.values(SORTS).map(({ code, words }) => ({ value: code, words })),
    change: withSort,
  },
  { control: 'serial', field: 'serial', label: 'registers.serial_number' },
  { control: 'choice', field: 'unit', label: 'common.unit', options: ({ sort }) => unitsFor(sort) },
  { control: 'number', field: 'low', label: 'registers.range_from' },
  {
    control: 'number',
    field: 'high',
    label: 'registers.range_to',
    needed: ({ sort }) => sort === 'click',
    hintFor: (tool, sound) => (sound ? usedWords(tool) : ''),
  },
  { control: 'choice', field: 'class', label: 'tools.class', options: ({ sort }) => classesFor(sort) },
  { control: 'number', field: 'deviation', label: 'tools.deviation', hint: 'tools.deviation_hint', hintFor: deviationHint },
  { control: 'day', field: 'calibrated', label: 'registers.calibrated_on' },
  { control: 'day', field: 'due', label: 'registers.next_due', hint: 'tools.due_hint' },
  { control: 'whole', field: 'cycles_most', label: 'tools.cycles', hint: 'tools.cycles_hint' },
  { control: 'whole', field: 'cycles_at_calibration', label: 'tools.cycles_at_calibration', hint: 'tools.cycles_at_calibration_hint' },
  { control: 'text', field: 'certificate', label: 'registers.certificate', wide: true },
  { control: 'lines', field: 'notes', label: 'common.notes', wide: true },
  { control: 'tick', field: 'retired', label: 'tools.retired_tick' },
]
