import { describe, expect, test } from 'vitest'
import { boltCautions, frontOf, jointAt, targetWords, toleranceWords } from './runWords.ts'

const SHEET = { bolt: 'stretch', uses_most: 1, length_most: '105.2', stages: [{ method: 'torque' }, { method: 'angle' }] } as never

describe('how a target is worded', () => {
  test.each([
    [{ target: '60', unit: 'N·m', minus: '3', plus: '3' }, '60 N·m', '±3'],
    [{ target: '90', unit: '°', minus: '0', plus: '5' }, '90°', '−0 +5'],
    [{ target: '', unit: '', minus: '', plus: '' }, 'release', ''],
  ])('%j', (stage, target, tolerance) => {
    expect(targetWords(stage)).toBe(target)
    expect(toleranceWords(stage)).toBe(tolerance)
  })
})

test('stretch bolts carry their cautions to where they are turned, others none', () => {
  expect(boltCautions(SHEET)).toEqual([
    'Stretch bolts. Maximum number of tightenings: 1. Measure each: none longer than 105.2 mm. Do not check with a torque wrench what was tightened by angle.',
  ])
  expect(boltCautions({ bolt: 'reusable' } as never)).toEqual([])
})

test('the joint in hand is that of the fastener, or the one that holds the part', () => {
  const joints = ['head_bolt/A', 'head_bolt/B', 'main_bolt/1', 'flywheel_bolt'].map((code) => ({ code, name: code, fasteners: [] }))
  const at = (place: string) => jointAt({ joints } as never, place)?.code ?? null
  expect(at('head_bolt/B/3')).toBe('head_bolt/B')
  expect(at('head/A')).toBe('head_bolt/A')
  expect(at('main_bearing/1')).toBe('main_bolt/1')
  expect(at('main_cap/2')).toBeNull()
  expect(at('flywheel')).toBe('flywheel_bolt')
  expect(at('bore/3')).toBeNull()
  expect(at('')).toBeNull()
})

test('front is where the joint has one', () => {
  expect([frontOf('head_bolt/A'), frontOf('main_bolt/2'), frontOf('flywheel_bolt')]).toEqual(['left', 'above', undefined])
})
