// Where fasteners are, as lines of text ("1 52 -46"), and lists of them placed in rows or on a circle. Whole millimetres.

import type { Fastener } from '../../../trade/engine/parts.ts'

const LINE = /^\s*([A-Za-z0-9_]{1,12})[\s,;]+(-?\d{1,4})[\s,;]+(-?\d{1,4})\s*$/

/** The fasteners that can be drawn; lines of another form stay for the check to name. */
export function drawn(text: string): Fastener[] {
  return text.split('\n').flatMap((line) => {
    const [, label, x, y] = LINE.exec(line) ?? []
    return label === undefined ? [] : [{ label, x_mm: Number(x), y_mm: Number(y) }]
  })
}

export function written(fasteners: Fastener[]): string {
  return fasteners.map(({ label, x_mm, y_mm }) => `${label} ${x_mm} ${y_mm}`).join('\n')
}

/** The text with one fastener moved; every other line stays as it was typed. */
export function moved(text: string, label: string, x: number, y: number): string {
  return text
    .split('\n')
    .map((line) => (LINE.exec(line)?.[1] === label ? `${label} ${whole(x)} ${whole(y)}` : line))
    .join('\n')
}

export function without(text: string, label: string): string {
  return text
    .split('\n')
    .filter((line) => LINE.exec(line)?.[1] !== label)
    .join('\n')
}

const MOST_MM = 5000

/** A whole number of millimetres within what an engine type takes; halves go outward, so that what is opposite stays so. */
function whole(mm: number): number {
  const size = Math.min(MOST_MM, Math.round(Number(Math.abs(mm).toFixed(6))))
  return mm < 0 ? -size || 0 : size
}

/** The next free number for a label. */
export function nextLabel(fasteners: Fastener[]): number {
  return Math.max(0, ...fasteners.map(({ label }) => (/^\d+$/.test(label) ? Number(label) : 0))) + 1
}

/** The text with one fastener more, below those there are. */
export function added(text: string): string {
  const fasteners = drawn(text)
  const [left, foot] = [Math.min(0, ...fasteners.map(({ x_mm }) => x_mm)), Math.max(0, ...fasteners.map(({ y_mm }) => y_mm))]
  const line = `${nextLabel(fasteners)} ${fasteners.length ? left : 0} ${fasteners.length ? foot + 30 : 0}`
  return [text.trimEnd(), line].filter(Boolean).join('\n')
}

export interface Rows {
  rows: number
  columns: number
  /** Millimetres between columns, and between rows. */
  along: number
  across: number
}

/** Rows and columns about the middle, numbered row by row. */
export function grid({ rows, columns, along, across }: Rows, first = 1): Fastener[] {
  return Array.from({ length: rows * columns }, (_, i) => ({
    label: String(first + i),
    x_mm: whole(((i % columns) - (columns - 1) / 2) * along),
    y_mm: whole((Math.floor(i / columns) - (rows - 1) / 2) * across),
  }))
}

export interface Ring {
  count: number
  /** Millimetres across the circle through the bolts. */
  diameter: number
  /** Degrees clockwise from the top to the first. */
  start: number
}

/** Evenly on a circle about the middle, numbered clockwise as drawn. */
export function ring({ count, diameter, start }: Ring, first = 1): Fastener[] {
  return Array.from({ length: count }, (_, i) => {
    const angle = ((start + (360 * i) / count) * Math.PI) / 180
    return {
      label: String(first + i),
      x_mm: whole((diameter / 2) * Math.sin(angle)),
      y_mm: whole((-diameter / 2) * Math.cos(angle)),
    }
  })
}

/** A number as it is typed, within bounds; null for anything else. */
export function between(text: string, least: number, most: number): number | null {
  const n = Number(text.trim().replace(',', '.'))
  return text.trim() && Number.isFinite(n) && n >= least && n <= most ? n : null
}
