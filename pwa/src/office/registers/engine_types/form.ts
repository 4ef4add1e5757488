// An engine type as it is typed, and back. Lists of numbers are written as people write them: "1 3 4 2".

import { draft } from './draft.ts'
import { say } from '../../frame/say.ts'
import type { FieldFault } from '../../../trade/ground/errors.ts'
import type { EngineType } from '../../../trade/engine/parts.ts'

export interface TypedBank {
  code: string
  name: string
  cylinders: string
  stagger_mm: string
}

export interface TypedShaft {
  code: string
  bank: string
  drives: string
}

export interface TypedJoint {
  code: string
  name: string
  /** One fastener a line: label, millimetres along, millimetres across. */
  fasteners: string
}

export interface Typed {
  id: string
  name: string
  invented: boolean
  layout: EngineType['layout']
  bank_angle: string
  cylinders: string
  banks: TypedBank[]
  /** One crankpin a line, front to rear, with the cylinders it carries. */
  crankpins: string
  mains: string
  firing_order: string
  rotation: EngineType['rotation']
  front: EngineType['front']
  inlet: string
  exhaust: string
  camshafts: TypedShaft[]
  joints: TypedJoint[]
  pieces: string[]
  notes: string
}

/** Whole numbers in a text; anything else stays as text, so that the check can name it. */
export function numbers(text: string): number[] {
  const parts = text.split(/[\s,;–-]+/).filter(Boolean)
  return parts.map((part) => (/^\d+$/.test(part) ? Number(part) : (part as unknown as number)))
}

function whole(text: string): number {
  return /^-?\d+$/.test(text.trim()) ? Number(text.trim()) : (text.trim() as unknown as number)
}

const lines = (text: string) => text.split('\n').filter((line) => line.trim())

export function toForm(type: EngineType): Typed {
  return {
    ...type,
    bank_angle: String(type.bank_angle),
    cylinders: String(type.cylinders),
    banks: type.banks.map((bank) => ({
      ...bank,
      cylinders: bank.cylinders.join(' '),
      stagger_mm: String(bank.stagger_mm),
    })),
    crankpins: type.crankpins.map((pin) => pin.join(' ')).join('\n'),
    mains: String(type.mains),
    firing_order: type.firing_order.join(' '),
    inlet: String(type.valves.inlet),
    exhaust: String(type.valves.exhaust),
    camshafts: type.camshafts.map((shaft) => ({ ...shaft, drives: shaft.drives.join(' ') })),
    joints: type.joints.map((joint) => ({
      ...joint,
      fasteners: joint.fasteners.map((f) => `${f.label} ${f.x_mm} ${f.y_mm}`).join('\n'),
    })),
  }
}

export function fromForm(form: Typed): EngineType {
  return {
    id: form.id,
    name: form.name.trim(),
    invented: form.invented,
    layout: form.layout,
    bank_angle: whole(form.bank_angle),
    cylinders: whole(form.cylinders),
    banks: form.banks.map((bank) => ({
      code: bank.code.trim(),
      name: bank.name.trim(),
      cylinders: numbers(bank.cylinders),
      stagger_mm: whole(bank.stagger_mm || '0'),
    })),
    crankpins: lines(form.crankpins).map(numbers),
    mains: whole(form.mains),
    firing_order: numbers(form.firing_order),
    rotation: form.rotation,
    front: form.front,
    valves: { inlet: whole(form.inlet), exhaust: whole(form.exhaust) },
    camshafts: form.camshafts.map((shaft) => ({
      code: shaft.code.trim(),
      bank: shaft.bank,
      drives: shaft.drives.split(' ').filter(Boolean) as EngineType['camshafts'][number]['drives'],
    })),
    joints: form.joints.map((joint) => ({
      code: joint.code.trim(),
      name: joint.name.trim(),
      fasteners: lines(joint.fasteners).map(fastener),
    })),
    pieces: form.pieces,
    notes: form.notes.trim(),
  }
}

function fastener(line: string) {
  const [label = '', x = '', y = ''] = line.trim().split(/[\s,;]+/)
  return { label, x_mm: whole(x), y_mm: whole(y) }
}

/** The usual arrangement for a layout and a number of cylinders, as a start; the firing order comes from the maker. */
export function usual(layout: EngineType['layout'], cylinders: number): Typed {
  return { ...toForm(draft('', layout, cylinders)), firing_order: '' }
}

const NO_ID = '00000000-0000-4000-8000-000000000000'

/**
 * What is typed as an engine type; `value`: what the server checks; `known`: the faults that are known without it. A new
 * type has no id yet, and an empty name hides no other fault.
 */
export function readForm(form: Typed): { type: EngineType; value: EngineType; known: FieldFault[] } {
  const type = { ...fromForm(form), id: form.id || NO_ID }
  const unnamed = { where: 'name', message: say('registers.name_missing') }
  return { type, value: { ...type, name: type.name || 'unnamed' }, known: type.name ? [] : [unnamed] }
}
