import { describe, expect, it } from 'vitest'
import types from '../../../../server/witnessmark/trade/data/invented_engine_types.json'
import type { EngineType } from '../../store/index.ts'
import { STAGES } from '../../trade/engine/stages.ts'
import { placesOf, shortName, togetherWith, wantedAt } from './places.ts'

const v6 = types.engine_types.find((t) => t.layout === 'v') as unknown as EngineType
const measure = STAGES.find((s) => s.code === 'measure')!.checklist
const build = STAGES.find((s) => s.code === 'build')!.checklist
const codes = (code: string) => togetherWith(v6, code).map((p) => p.code)

describe('the parts one changes between in hand', () => {
  it('of a cylinder are those of that cylinder alone', () => {
    expect(codes('bore/3')).toEqual(expect.arrayContaining(['bore/3', 'piston/3', 'rod/3', 'gudgeon_pin/3', 'valve/3/inlet/1']))
    expect(togetherWith(v6, 'bore/3').filter((p) => p.cylinder !== 3)).toEqual([])
  })
  it('of a main are its journal, bearing and cap', () => {
    expect(codes('main/2')).toEqual(expect.arrayContaining(['main/2', 'main_bearing/2', 'main_cap/2']))
  })
  it('of a bolt are the bolts of its joint', () => {
    expect(codes('head_bolt/A/7')).toHaveLength(8)
  })
  it('are said without the number that is clear already', () => {
    const name = (code: string) => shortName(placesOf(v6).find((p) => p.code === code)!)
    expect(name('piston/3')).toBe('piston')
    expect(name('head_bolt/A/7')).toBe('head bolt 7')
  })
})

describe('what is still wanted', () => {
  const none = new Set<string>()
  it('rings every bore until it was measured', () => {
    const wanted = wantedAt(v6, 'measure', measure, none, new Set(['measured bore/1', 'photo_taken bore/2']), none)
    expect(wanted.places.has('bore/1')).toBe(false)
    expect(wanted.places.has('bore/2')).toBe(true)
    expect([...wanted.places].filter((p) => p.startsWith('main/'))).toHaveLength(4)
  })
  it('is said for the place in hand', () => {
    const wanted = wantedAt(v6, 'measure', measure, none, none, new Set(['bore/3']))
    expect(wanted.items.filter((i) => i.here).map((i) => i.item)).toEqual(['bores'])
  })
  it('asks no more for what was ticked off', () => {
    const wanted = wantedAt(v6, 'measure', measure, new Set(['measure/bores', 'measure/journals', 'measure/faces']), none, none)
    expect([...wanted.places]).toEqual([])
    expect(wanted.items.map((i) => i.item)).not.toContain('bores')
  })
  it('takes a picture under another name of the same cylinder', () => {
    const wanted = wantedAt(v6, 'build', build, none, new Set(['photo_taken rod/1']), none)
    expect(wanted.places.has('piston/1')).toBe(false)
    expect(wanted.places.has('piston/2')).toBe(true)
  })
})
