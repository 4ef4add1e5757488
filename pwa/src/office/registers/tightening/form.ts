// A tightening sheet while it is written: a start, its stages, and which faults are worth saying yet.

import type { Fault } from '../../../trade/ground/errors.ts'
import type { EngineType, Joint } from '../../../trade/engine/parts.ts'
import { ofSheet, type PreloadSaid } from '../../../trade/tightening/preload_estimate.ts'
import { jointsOf, type TighteningSheet } from '../../../trade/tightening/sheets.ts'
import { KINDS, type Method, type TighteningStage } from '../../../trade/tightening/stages.ts'
import { UNITS } from '../../../trade/ground/units.ts'

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

/** What a sheet can be for: each joint, and all joints of a part that stand alike. */
export function joints(type: EngineType): { value: string; words: string; name: string }[] {
  const named = type.joints.filter(({ fasteners }) => fasteners.length)
  const parts = [...new Set(named.map(({ code }) => code.split('/')[0]!))]
  return parts.flatMap((part) => {
    const own = named.filter(({ code }) => code.split('/')[0] === part)
    const each = own.map(({ code, name }) => ({ value: code, words: name || code, name: name || code }))
    const pattern = own.length > 1 && own.every(({ code }) => code.split('/').length === 2) && own.every((one) => alike(one, own[0]!))
    const all = { value: `${part}/*`, words: `all ${own.length}: ${own.map(({ name, code }) => name || code).join(', ')}`, name: common(own) }
    return pattern ? [all, ...each] : each
  })
}

function alike(one: Joint, other: Joint): boolean {
  const said = ({ fasteners }: Joint) => fasteners.map(({ label }) => label).sort().join(' ')
  return said(one) === said(other)
}

/** What several names begin with: "Main bearing cap 1", "Main bearing cap 2" -> "Main bearing cap". */
function common(all: Joint[]): string {
  const words = all.map(({ name, code }) => (name || code).split(' '))
  const first = words[0]!
  const same = first.findIndex((word, i) => words.some((other) => other[i] !== word))
  return first.slice(0, same < 0 ? first.length : same).join(' ').replace(/(, bank|,)$/, '') || all[0]!.code.split('/')[0]!
}

/** The joint that is drawn: the first of those a sheet is for. */
export function drawnJoint(type: EngineType, sheet: TighteningSheet): Joint | null {
  return jointsOf(sheet.joint, type)[0] ?? null
}

/** A stage after those there are; it begins with the order of the last. */
export function nextStage(stages: TighteningStage[]): TighteningStage {
  const last = stages.at(-1)
  const numbers = stages.map(({ code }) => (/^\d+$/.test(code) ? Number(code) : 0))
  return {
    code: String(Math.max(0, ...numbers) + 1),
    words: '',
    method: 'torque',
    target: '',
    unit: 'N·m',
    minus: '',
    plus: '',
    order: last?.order ?? [],
    proposed: last?.proposed ?? false,
    after: '',
  }
}

/** The units that a method is told in. */
export function unitsFor(method: Method): { value: string; words: string }[] {
  return Object.entries(UNITS)
    .filter(([code, { kind }]) => code && KINDS[method].includes(kind))
    .map(([value, { words }]) => ({ value, words: value === words ? value : `${value}, ${words}` }))
}

/** A stage by another method: a unit that fits it, and no target for letting go without one. */
export function byMethod(stage: TighteningStage, method: Method): TighteningStage {
  const units = unitsFor(method).map(({ value }) => value)
  if (method === 'release' && stage.target === '') return { ...stage, method, unit: '', minus: '', plus: '' }
  return { ...stage, method, unit: units.includes(stage.unit) ? stage.unit : (units.find((unit) => unit === '°' || unit === 'N·m') ?? units[0]!) }
}

/** An order as it is typed, "1 2 3 4". */
export function orderOf(text: string): string[] {
  return text.split(/[\s,;–-]+/).filter(Boolean)
}

/** The order after a touch of a fastener: put at the end; the last one touched again is taken back. */
export function touched(order: string[], label: string): string[] {
  if (order.at(-1) === label) return order.slice(0, -1)
  return order.includes(label) ? order : [...order, label]
}

/**
 * The sheet as it is to be checked, and the faults that are known without asking: what is not written yet does not hide
 * what is wrong elsewhere.
 */
export function readForm(sheet: TighteningSheet, type: EngineType): { value: TighteningSheet; known: Fault[] } {
  const labels = drawnJoint(type, sheet)?.fasteners.map(({ label }) => label) ?? []
  const known: Fault[] = []
  const filled = (text: string, where: string, message: string, instead: string) => {
    if (!text) known.push({ where, message })
    return text || instead
  }
  const stages = sheet.stages.map((stage, i) => {
    const words = filled(stage.words, `stages.${i}.words`, `Stage ${i + 1}: The name is empty.`, `Stage ${i + 1}`)
    if (stage.order.length || !labels.length) return { ...stage, words }
    known.push({ where: `stages.${i}.order`, message: `${words}: the order is empty and misses every fastener.` })
    return { ...stage, words, order: labels }
  })
  const name = filled(sheet.name, 'name', 'The name is empty.', 'x')
  const source = filled(sheet.source, 'source', 'The source is empty.', 'x')
  return { value: { ...sheet, name, source, stages }, known }
}

/** The estimate of preload, null while what it goes by is at fault. */
export function preloadOf(sheet: TighteningSheet, faults: Fault[]): PreloadSaid | null {
  const bolt = faults.every(({ where }) => !/^(thread|friction)/.test(where))
  return bolt && sheet.stages.every((stage) => stage.method === 'release' || isRead(stage)) ? ofSheet(sheet) : null
}

/** Whether a stage's target can be reckoned with, sensible or not. */
export function isRead({ method, target, unit }: TighteningStage): boolean {
  return /^\d{1,9}(\.\d{1,9})?$/.test(target) && Number(target) > 0 && unitsFor(method).some(({ value }) => value === unit)
}

/** Before the first try what is merely not written yet is no fault, nor is an order that is still being touched. */
export function worthSaying(faults: Fault[], sheet: TighteningSheet, tried: boolean): Fault[] {
  if (tried) return faults
  return faults.filter(({ where, message }) => {
    const value = where.split('.').reduce<unknown>((at, name) => (at as Record<string, unknown> | undefined)?.[name], sheet)
    if (where.endsWith('.order')) return !message.includes('misses')
    return value !== '' && value !== 0
  })
}
