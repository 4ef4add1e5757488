// A tightening sheet while it is written: a start, its stages, and which faults to show already.

import { usualUnit } from '../../../trade/ground/units.ts'
import type { FieldFault } from '../../../trade/ground/errors.ts'
import type { EngineType, Joint } from '../../../trade/engine/parts.ts'
import { ofSheet, type PreloadWords } from '../../../trade/tightening/preload_estimate.ts'
import { jointsOf, type TighteningSheet } from '../../../trade/tightening/sheets.ts'
import { KINDS, type Method, type TighteningStage } from '../../../trade/tightening/stages.ts'
import { UNITS } from '../../../trade/ground/units.ts'
import { say } from '../../frame/say.ts'
import type { Option } from '../form/schema.ts'

/** A sheet not written yet, for the first joint of the engine type that has fasteners. */
export function blank(type: EngineType): TighteningSheet {
  const joint = joints(type)[0]
  return {
    ...{ id: '', engine_type: type.id, joint: joint?.value ?? '', name: joint?.name ?? '' },
    ...{ thread: { size: '', pitch: '', class: '' }, state: 'oiled', bolt: 'reusable', uses_most: 0, length_most: '' },
    ...{ stages: [nextStage([])], friction: { k: '', thread: '', head: '' } },
    ...{ two_people: false, holds: [], source: '', withdrawn: false, note: '' },
  }
}

/** A joint, or all joints of a part; `name` is how a sheet for it is called. */
export interface JointOption extends Option {
  name: string
}

/** What a sheet can be for: each joint, and all joints of a part with the same fasteners. */
export function joints(type: EngineType): JointOption[] {
  const withFasteners = type.joints.filter(({ fasteners }) => fasteners.length)
  const parts = [...new Set(withFasteners.map(({ code }) => code.split('/')[0]!))]
  return parts.flatMap((part) => {
    const ofPart = withFasteners.filter(({ code }) => code.split('/')[0] === part)
    const each = ofPart.map(({ code, name }) => ({ value: code, words: name || code, name: name || code }))
    const numbered = ofPart.length > 1 && ofPart.every(({ code }) => code.split('/').length === 2)
    if (!numbered || !ofPart.every((joint) => alike(joint, ofPart[0]!))) return each
    const names = ofPart.map(({ name, code }) => name || code).join(', ')
    return [{ value: `${part}/*`, words: say('tightening.all_joints', { count: ofPart.length, names }), name: common(ofPart) }, ...each]
  })
}

function alike(joint: Joint, other: Joint): boolean {
  const labels = ({ fasteners }: Joint) => fasteners.map(({ label }) => label).sort().join(' ')
  return labels(joint) === labels(other)
}

/** What several names begin with: "Main bearing cap 1", "Main bearing cap 2" -> "Main bearing cap". */
function common(all: Joint[]): string {
  const words = all.map(({ name, code }) => (name || code).split(' '))
  const first = words[0]!
  const same = first.findIndex((word, i) => words.some((other) => other[i] !== word))
  return first.slice(0, same < 0 ? first.length : same).join(' ').replace(/(, bank|,)$/, '') || all[0]!.code.split('/')[0]!
}

/** The joint that is drawn: the first that a sheet is for. */
export function drawnJoint(type: EngineType, sheet: TighteningSheet): Joint | null {
  return jointsOf(sheet.joint, type)[0] ?? null
}

/** A stage after those there are; it starts with the order of the last. */
export function nextStage(stages: TighteningStage[]): TighteningStage {
  const last = stages.at(-1)
  const numbers = stages.map(({ code }) => (/^\d+$/.test(code) ? Number(code) : 0))
  return {
    code: String(Math.max(0, ...numbers) + 1),
    words: '',
    method: 'torque',
    target: '',
    unit: usualUnit('torque'),
    minus: '',
    plus: '',
    order: last?.order ?? [],
    proposed: last?.proposed ?? false,
    after: '',
  }
}

/** The units of a method's target. */
export function unitsFor(method: Method): Option[] {
  return Object.entries(UNITS)
    .filter(([code, { kind }]) => code && KINDS[method].includes(kind))
    .map(([value, { words }]) => ({ value, words: value === words ? value : `${value}, ${words}` }))
}

/** A stage by another method: a unit that fits it, and none for a release without a target. */
export function byMethod(stage: TighteningStage, method: Method): TighteningStage {
  const units = unitsFor(method).map(({ value }) => value)
  if (method === 'release' && stage.target === '') return { ...stage, method, unit: '', minus: '', plus: '' }
  return { ...stage, method, unit: units.includes(stage.unit) ? stage.unit : (units.find((unit) => unit === usualUnit(UNITS[unit]!.kind)) ?? units[0]!) }
}

/** An order as it is typed, "1 2 3 4". */
export function orderOf(text: string): string[] {
  return text.split(/[\s,;–-]+/).filter(Boolean)
}

/** The order after a touch of a fastener: it goes to the end; the last, touched again, comes out. */
export function touched(order: string[], label: string): string[] {
  if (order.at(-1) === label) return order.slice(0, -1)
  return order.includes(label) ? order : [...order, label]
}

/** `value`: the sheet as the server checks it; `known`: the faults that are known without it. An empty field hides no other fault. */
export function readForm(sheet: TighteningSheet, type: EngineType): { value: TighteningSheet; known: FieldFault[] } {
  const labels = drawnJoint(type, sheet)?.fasteners.map(({ label }) => label) ?? []
  const known: FieldFault[] = []
  const filled = (text: string, where: string, message: string, instead: string) => {
    if (!text) known.push({ where, message })
    return text || instead
  }
  const stages = sheet.stages.map((stage, i) => {
    const number = say('tightening.stage_number', { number: i + 1 })
    const words = filled(stage.words, `stages.${i}.words`, say('tightening.stage_name_empty', { stage: number }), number)
    if (stage.order.length || !labels.length) return { ...stage, words }
    known.push({ where: `stages.${i}.order`, message: say('tightening.stage_order_empty', { stage: words }) })
    return { ...stage, words, order: labels }
  })
  const name = filled(sheet.name, 'name', say('tightening.name_empty'), 'x')
  const source = filled(sheet.source, 'source', say('tightening.source_empty'), 'x')
  return { value: { ...sheet, name, source, stages }, known }
}

/** The estimate of preload, null while thread, friction or a target is at fault. */
export function preloadOf(sheet: TighteningSheet, faults: FieldFault[]): PreloadWords | null {
  const bolt = faults.every(({ where }) => !/^(thread|friction)/.test(where))
  return bolt && sheet.stages.every((stage) => stage.method === 'release' || isRead(stage)) ? ofSheet(sheet) : null
}

/** Whether a stage's target can be reckoned with, sensible or not. */
export function isRead({ method, target, unit }: TighteningStage): boolean {
  return /^\d{1,9}(\.\d{1,9})?$/.test(target) && Number(target) > 0 && unitsFor(method).some(({ value }) => value === unit)
}

/** Before the first try an empty field is no fault, nor is an order that is merely unfinished. */
export function faultsToShow(faults: FieldFault[], sheet: TighteningSheet, type: EngineType, tried: boolean): FieldFault[] {
  if (tried) return faults
  const labels = new Set(drawnJoint(type, sheet)?.fasteners.map(({ label }) => label))
  return faults.filter(({ where }) => {
    const value = where.split('.').reduce<unknown>((at, name) => (at as Record<string, unknown> | undefined)?.[name], sheet)
    if (where.endsWith('.order')) return !isUnfinished(value as string[], labels)
    return value !== '' && value !== 0
  })
}

/** Whether an order lacks fasteners and has no other fault: each at most once, and all of the joint. */
function isUnfinished(order: string[], labels: Set<string>): boolean {
  return order.length < labels.size && new Set(order).size === order.length && order.every((label) => labels.has(label))
}
