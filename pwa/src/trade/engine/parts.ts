// The parts of an engine and the shape of an engine type, as both tables describe them.

import table from '../../../../server/witnessmark/trade/data/parts.json'

export interface Part {
  code: string
  name: string
  per: string
  also: string[]
  points: string[]
  optional?: boolean
  bottom_end?: boolean
  at?: string
}

export interface Bank {
  code: string
  name: string
  /** Front to rear. */
  cylinders: number[]
  stagger_mm: number
}

export interface Camshaft {
  code: string
  bank: string
  drives: Side[]
}

export interface Fastener {
  label: string
  x_mm: number
  y_mm: number
}

export interface Joint {
  code: string
  name: string
  fasteners: Fastener[]
}

export type Side = 'inlet' | 'exhaust'
export type Layout = 'inline' | 'v' | 'flat' | 'single'

export interface EngineType {
  id: string
  name: string
  invented: boolean
  layout: Layout
  bank_angle: number
  cylinders: number
  banks: Bank[]
  /** From the front: which cylinders each crankpin carries. */
  crankpins: number[][]
  mains: number
  firing_order: number[]
  /** Seen from the front. */
  rotation: 'clockwise' | 'anticlockwise'
  front: 'away_from_flywheel' | 'flywheel_end'
  /** Per cylinder. */
  valves: { inlet: number; exhaust: number }
  camshafts: Camshaft[]
  joints: Joint[]
  pieces: string[]
  notes: string
}

export const SIDES: Side[] = ['inlet', 'exhaust']
export const PARTS: Record<string, Part> = Object.fromEntries((table.parts as Part[]).map((part) => [part.code, part]))
export const PART_ORDER: string[] = Object.keys(PARTS)
export const OPTIONAL_PARTS = PART_ORDER.filter((code) => PARTS[code]!.optional)
export const FASTENER_PARTS = PART_ORDER.filter((code) => PARTS[code]!.per === 'fastener')
/** Shown beside every designation until somebody has checked it against the standard itself. */
export const ISO_NOTE: string = table.iso_note
