// The workshop's own statements in words: gauges, limits, procedures, tightening sheets … The twin of trade/statements.py.

import { spaced, subject } from '../measuring/procedure_words.ts'
import { times } from '../tightening/departures.ts'
import { jointWords } from '../tightening/words.ts'

type What = Record<string, any>

const SORTS: Record<string, string> = { new: 'new', service: 'service', machining: 'machining' }
export const RULES: Record<string, string> = {
  guarded: 'guarded by the whole uncertainty',
  guarded_95: 'guarded, 95 % sure',
  simple: 'simple, uncertainty not counted',
}

/** What a statement is about, for the title of its line. `sort` is the sort of its field in kinds.json. */
export function named(sort: string, what: What): string {
  if (sort === 'gauge' || sort === 'torque_tool') return what['name']
  if (sort === 'tightening_sheet') return `${what['name']}, ${jointWords(what['joint'])}`
  if (sort === 'procedure') return `${what['name']}, edition ${what['edition']}`
  if (sort === 'measuring_rules') return RULES[what['rule']] ?? what['rule']
  if (sort === 'limit') {
    return `${subject(what, 'figures', 'figure')}, ${bounds(what)} (${SORTS[what['sort']] ?? what['sort']})`
  }
  const values = (what['values'] as string[]).map((one) => (what['unit'] ? withUnit(one, what['unit']) : spaced(one)))
  return `${subject(what, 'sizes', 'code')}, ${values.join(', ')}`
}

/** What else a statement says, in sentences, for the text of its line. */
export function told(sort: string, what: What): string {
  return saidOf(sort, what).filter(Boolean).map(sentence).join(' ')
}

function saidOf(sort: string, what: What): string[] {
  if (sort === 'gauge') return ofGauge(what)
  if (sort === 'torque_tool') return ofTool(what)
  if (sort === 'tightening_sheet') return ofSheet(what)
  if (sort === 'procedure') {
    const grid = what['grid'] as { values: unknown[] }[]
    const count = grid.length ? grid.reduce((n, axis) => n * axis.values.length, 1) : 0
    return [`Readings at each place: ${count + what['readings'].length}; figures: ${what['figures'].length}`]
  }
  if (sort === 'measuring_rules') {
    const half = `Temperatures to plus or minus ${what['temperature_half_width']} K`
    return [
      `Compression at least ${what['compression_share']} % of the highest`,
      `${half}; expansion to plus or minus ${what['expansion_half_width']} %`,
      what['note'],
    ]
  }
  return ofLimit(what)
}

/** "at most 0.02 mm", "at least 9 bar", "0.03 to 0.06 mm". */
export function bounds(limit: What): string {
  const { low, high, unit } = limit as { low: string; high: string; unit: string }
  if (low && high) return withUnit(`${low} to ${high}`, unit)
  return withUnit(high ? `at most ${high}` : `at least ${low}`, unit)
}

function ofGauge(gauge: What): string[] {
  const { resolution, mpe, unit } = gauge as Record<string, string>
  return [
    gauge['retired'] ? 'Out of use' : '',
    `Reads to ${withUnit(resolution!, unit!)}; permissible error plus or minus ${withUnit(mpe!, unit!)}`,
    ...ofCalibration(gauge),
    gauge['notes'],
  ] as string[]
}

function ofTool(tool: What): string[] {
  return [
    tool['retired'] ? 'Out of use' : '',
    range(tool['low'], tool['high'], tool['unit']),
    tool['deviation'] && `Permissible deviation plus or minus ${tool['deviation']} %`,
    ...ofCalibration(tool),
    tool['notes'],
  ] as string[]
}

function range(low: string, high: string, unit: string): string {
  if (low && high) return `From ${low} to ${withUnit(high, unit)}`
  if (high) return `Up to ${withUnit(high, unit)}`
  return low && `From ${withUnit(low, unit)}`
}

function ofSheet(sheet: What): string[] {
  const { thread, uses_most: most, length_most: length } = sheet
  const stages = sheet['stages'] as What[]
  return [
    sheet['withdrawn'] ? 'Withdrawn' : '',
    `Thread ${thread.size}${thread.class ? `, class ${thread.class}` : ''}`,
    sheet['bolt'] === 'stretch' ? 'Stretch bolts' : '',
    most ? `Tightened ${times(most)} in all at most` : '',
    length && `No longer than ${length} mm`,
    `Stages: ${stages.map(stageSaid).join('; ')}`,
    stages.some((one) => one['proposed']) ? 'The order is only a proposal' : '',
    sheet['two_people'] ? 'A second person witnesses it' : '',
    `From: ${sheet['source']}`,
    sheet['note'],
  ] as string[]
}

/** "Snug, 20 N·m"; the target is not said twice when the name of the stage says it. */
function stageSaid(stage: What): string {
  const target = withUnit(stage['target'], stage['unit'])
  return !target || stage['words'].includes(target) ? stage['words'] : `${stage['words']}, ${target}`
}

function ofCalibration(thing: What): string[] {
  const { serial, certificate, calibrated, due } = thing as Record<string, string>
  return [
    serial && `Serial number ${serial}`,
    certificate && `Certificate ${certificate}`,
    calibrated && `Calibrated ${calibrated}`,
    due && `Due ${due}`,
  ] as string[]
}

function ofLimit(what: What): string[] {
  return [
    what['withdrawn'] ? 'Withdrawn' : '',
    what['where'].length ? `Only at ${what['where'].join(', ')}` : '',
    `From: ${what['source']}`,
    what['valid_from'] && `Valid from ${what['valid_from']}`,
    what['valid_until'] && `Valid until ${what['valid_until']}`,
    what['note'],
  ] as string[]
}

function withUnit(text: string, unit: string): string {
  return `${text} ${unit}`.trimEnd()
}

function sentence(text: string): string {
  return /[.!?]$/.test(text) ? text : `${text}.`
}
