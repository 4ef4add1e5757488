// From a sheet to what its drawings need: rings and profiles in millimetres, one magnification for all places of a sheet.

import { directionOf, magnification } from '../../../parts/grid/magnified.ts'
import { ROOM, type Ring } from '../../../parts/grid/RoundnessDrawing.tsx'
import type { Profile } from '../../../parts/grid/SectionDrawing.tsx'
import type { Sheet, SheetPlace } from '../../../trade/sheets/types.ts'
import { band, ink } from './written.ts'

export interface Scale {
  /** The size drawn true, mm. */
  about: number
  low: number | null
  high: number | null
  magnified: number
  /** True when a limit lies too far away to be drawn. */
  left: boolean
}

/** Which axis runs round the place and which along it; null where the grid has none such. */
export function axesOf(sheet: Pick<Sheet, 'axes'>): { round: number | null; along: number | null } {
  const round = sheet.axes.findIndex(({ axis, values }) => /direction|angle|round|clock/.test(axis) || values.some(({ code }) => /thrust|axial/.test(code)))
  const along = sheet.axes.findIndex((_, i) => i !== round)
  return { round: round < 0 ? null : round, along: along < 0 ? null : along }
}

/** Most that a ring may be drawn out of round, in units of the drawing. */
const OVAL_ROOM = 9

function ovalOf(ring: Ring): number {
  const all = ring.readings.map(({ size }) => size)
  return Math.max(...all) - Math.min(...all)
}

function sizes(place: SheetPlace): number[] {
  return Object.values(place.readings).flatMap(({ mean, unit }) => ink(mean, unit) ?? [])
}

/** One scale for the whole sheet, so that its places can be compared by eye. */
export function scaleOf(sheet: Sheet): Scale | null {
  const grid = new Set(sheet.axes.length ? sheet.places.flatMap(gridSizes) : [])
  if (!grid.size) return null
  const { low, high } = band(sheet)
  const all = [...grid].sort((a, b) => a - b)
  const middle = all[Math.floor(all.length / 2)]!
  const spread = all.at(-1)! - all[0]!
  // A limit far from all readings would leave no room to draw them: it is left off the drawing.
  const near = (limit: number | null) => (limit !== null && Math.abs(limit - middle) <= Math.max(3 * spread, 0.02) ? limit : null)
  const [least, most] = [near(low), near(high)]
  const about = least !== null && most !== null ? (least + most) / 2 : (all[0]! + all.at(-1)!) / 2
  const marks = [...all, least, most].filter((mark) => mark !== null)
  const furthest = Math.max(...marks.map((mark) => Math.abs(mark - about)))
  // Drawn much larger than this an oval turns into a waist, which no bore has.
  const oval = Math.max(0, ...sheet.places.flatMap((place) => ringsOf(sheet, place).map(ovalOf)))
  const magnified = Math.min(magnification(furthest / 2, ROOM), magnification(oval / 4, OVAL_ROOM))
  const left = [least === null ? low : null, most === null ? high : null].some((limit) => limit !== null)
  return { about, low: least, high: most, magnified, left }

  function gridSizes(place: SheetPlace): number[] {
    const codes = Object.keys(place.readings).filter((code) => code.split('/').length === sheet.axes.length)
    return sizes({ ...place, readings: Object.fromEntries(codes.map((code) => [code, place.readings[code]!])) })
  }
}

function read(place: SheetPlace, code: string): number | null {
  const taken = place.readings[code]
  return taken ? ink(taken.mean, taken.unit) : null
}

/** A code of the grid from one value for each axis. */
function codeOf(sheet: Sheet, at: Record<number, string>): string {
  return sheet.axes.map((axis, i) => at[i] ?? axis.values[0]!.code).join('/')
}

/** The rings of a place: one for each height, through what was read there in each direction. */
export function ringsOf(sheet: Sheet, place: SheetPlace): Ring[] {
  const { round, along } = axesOf(sheet)
  if (round === null) return []
  const directions = sheet.axes[round]!.values
  const heights = along === null ? [{ code: '', words: place.name }] : sheet.axes[along]!.values
  return heights.flatMap((height) => {
    const readings = directions.flatMap((direction, i) => {
      const at = { [round]: direction.code, ...(along === null ? {} : { [along]: height.code }) }
      const size = read(place, codeOf(sheet, at))
      return size === null ? [] : { size, angle: directionOf(direction.words, i, directions.length) }
    })
    return readings.length ? [{ words: height.words, readings }] : []
  })
}

/** The profiles along a place: one for each direction, at most two, as the section has two sides. */
export function profilesOf(sheet: Sheet, place: SheetPlace): Profile[] {
  const { round, along } = axesOf(sheet)
  if (along === null || sheet.axes[along]!.values.length < 2) return []
  const directions = round === null ? [{ code: '', words: '' }] : sheet.axes[round]!.values
  const profiles = directions.map((direction) => ({
    words: direction.words,
    sizes: sheet.axes[along]!.values.map((height) => read(place, codeOf(sheet, { [along]: height.code, ...(round === null ? {} : { [round]: direction.code }) }))),
  }))
  return profiles.filter((profile) => profile.sizes.some((size) => size !== null)).slice(0, 2)
}
