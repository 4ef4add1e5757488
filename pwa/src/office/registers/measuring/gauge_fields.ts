// The fields of a gauge in the register.

import { type Gauge, SORTS } from '../../../trade/measuring/gauges.ts'
import { UNITS, usualUnit } from '../../../trade/ground/units.ts'
import { always, type FormField, type Option } from '../form/schema.ts'

export function sortWords(code: string): string {
  return SORTS[code]?.words ?? code.replaceAll('_', ' ')
}

/** The units that a type of gauge can read in. */
function unitsFor(sort: string): Option[] {
  const kinds = SORTS[sort]?.kinds ?? []
  return Object.entries(UNITS)
    .filter(([code, { kind }]) => code && kinds.includes(kind))
    .map(([value, { words }]) => ({ value, words: `${value}, ${words}` }))
}

/** A gauge with nothing filled in. */
export function newGauge(): Gauge {
  return {
    ...{ id: '', name: '', sort: 'external_micrometer', serial: '', unit: usualUnit('length'), low: '', high: '', resolution: '', mpe: '', repeatability: '' },
    ...{ certificate: '', calibrated: '', due: '', retired: false, notes: '' },
  }
}

/** Another type of gauge; the unit stays where that type can read in it. */
function withSort(sort: string, gauge: Gauge): Partial<Gauge> {
  const units = unitsFor(sort)
  return { sort, unit: units.some(({ value }) => value === gauge.unit) ? gauge.unit : (units[0]?.value ?? '') }
}

export const GAUGE_FIELDS: FormField<Gauge>[] = [
  { control: 'text', field: 'name', label: 'common.name', needed: always, hint: 'gauges.name_hint' },
  {
    control: 'choice',
    field: 'sort',
    label: 'gauges.type',
    options: () => Object.values(SORTS).map(({ code, words }) => ({ value: code, words })),
    change: withSort,
  },
  { control: 'serial', field: 'serial', label: 'registers.serial_number' },
  { control: 'choice', field: 'unit', label: 'common.unit', options: ({ sort }) => unitsFor(sort) },
  { control: 'number', field: 'low', label: 'registers.range_from' },
  { control: 'number', field: 'high', label: 'registers.range_to' },
  { control: 'number', field: 'resolution', label: 'gauges.resolution', needed: always, hint: 'gauges.resolution_hint' },
  { control: 'number', field: 'mpe', label: 'gauges.permissible_error', needed: always, hint: 'gauges.permissible_error_hint' },
  { control: 'number', field: 'repeatability', label: 'gauges.repeatability', hint: 'gauges.repeatability_hint' },
  { control: 'text', field: 'certificate', label: 'registers.certificate' },
  { control: 'day', field: 'calibrated', label: 'registers.calibrated_on' },
  { control: 'day', field: 'due', label: 'registers.next_due', hint: 'gauges.due_hint' },
  { control: 'lines', field: 'notes', label: 'common.notes', wide: true },
  { control: 'tick', field: 'retired', label: 'gauges.retired_tick' },
]
