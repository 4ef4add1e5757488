import type { EngineType, Layout } from '../../../trade/engine/parts.ts'

/** A new engine type to be filled in: numbered front to rear, one crankpin per cylinder (two share one in a V). */
export function draft(id: string, sort: Layout, cylinders: number): EngineType {
  const all = Array.from({ length: cylinders }, (_, i) => i + 1)
  const two = sort === 'v' || sort === 'flat'
  const bank = (code: string, numbers: number[]) => ({ code, name: '', cylinders: numbers, stagger_mm: 0 })
  const pairs = all.filter((n) => n % 2 === 1).map((n) => all.slice(n - 1, n + 1))
  const pins = sort === 'v' ? pairs : all.map((n) => [n])
  return {
    id, name: '', invented: false, layout: sort, bank_angle: sort === 'v' ? 90 : sort === 'flat' ? 180 : 0, cylinders,
    banks: two ? [bank('A', all.filter((n) => n % 2)), bank('B', all.filter((n) => n % 2 === 0))] : [bank('A', all)],
    crankpins: pins, mains: pins.length + 1, firing_order: all, rotation: 'clockwise', front: 'away_from_flywheel',
    valves: { inlet: 1, exhaust: 1 }, camshafts: [{ code: 'block', bank: '', drives: ['inlet', 'exhaust'] }],
    joints: [], pieces: [], notes: '',
  }
}
