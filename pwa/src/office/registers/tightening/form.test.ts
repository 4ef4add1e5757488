import { describe, expect, it } from 'vitest'
import { draft } from '../engine_types/draft.ts'
import type { EngineType } from '../../../trade/engine/parts.ts'
import type { TighteningSheet } from '../../../trade/tightening/sheets.ts'
import { checked } from '../../../../support/checked.ts'
import { blank, byMethod, faultsToShow, joints, nextStage, orderOf, readForm, touched } from './form.ts'
import { targetWords } from './wording.ts'

const four = [['1', -40, -40], ['2', 40, -40], ['3', 40, 40], ['4', -40, 40]] as const
const fasteners = four.map(([label, x_mm, y_mm]) => ({ label, x_mm, y_mm }))
const type: EngineType = {
  ...draft('00000000-0000-4000-8000-000000000001', 'v', 4),
  joints: [
    { code: 'head_bolt/A', name: 'Cylinder head, bank A', fasteners },
    { code: 'head_bolt/B', name: 'Cylinder head, bank B', fasteners },
    { code: 'flywheel_bolt', name: 'Flywheel', fasteners },
  ],
}

const ID = '00000000-0000-4000-8000-000000000000'
/** All faults of a sheet that is written, as the form has them once the server has answered. */
function faultsOf(sheet: TighteningSheet) {
  const { value, known } = readForm(sheet, type)
  return [...known, ...checked('tightening_sheet', [[{ ...value, id: ID }, type]])[0]!]
}

describe('a sheet while it is written', () => {
  it('is for a joint, or for all with the same fasteners', () => {
    expect(joints(type).map(({ value, name }) => [value, name])).toEqual([
      ['head_bolt/*', 'Cylinder head'],
      ['head_bolt/A', 'Cylinder head, bank A'],
      ['head_bolt/B', 'Cylinder head, bank B'],
      ['flywheel_bolt', 'Flywheel'],
    ])
  })

  it('takes an order by touch, the last touch back', () => {
    expect(touched(touched(['1'], '3'), '1')).toEqual(['1', '3'])
    expect(touched(['1', '3'], '3')).toEqual(['1'])
    expect(orderOf('1, 3-2  4')).toEqual(['1', '3', '2', '4'])
  })

  it('starts with the order of the stage before and the next number', () => {
    const first = { ...nextStage([]), order: ['1', '3', '2', '4'], proposed: true }
    expect(nextStage([first])).toMatchObject({ code: '2', order: first.order, proposed: true, target: '' })
    expect(byMethod(first, 'angle').unit).toBe('°')
    expect(byMethod(first, 'release')).toMatchObject({ unit: '', minus: '', plus: '' })
  })

  it('shows empty fields only after the first try', () => {
    const sheet = blank(type)
    const faults = faultsOf(sheet)
    expect(faultsToShow(faults, sheet, type, false)).toEqual([])
    expect(faultsToShow(faults, sheet, type, true).map(({ where }) => where)).toContain('source')
    const withOrder = (order: string[]) => {
      const whole = { ...sheet, stages: [{ ...nextStage([]), words: 'First', order }], thread: { ...sheet.thread, size: 'M10' }, source: 'x', name: 'x' }
      return faultsToShow(faultsOf(whole), whole, type, false).map(({ where }) => where)
    }
    expect(withOrder(['1', '3'])).toEqual([])
    expect(withOrder(['1', '1'])).toContain('stages.0.order')
    expect(withOrder(['1', '9'])).toContain('stages.0.order')
  })

  it.each([
    [{ target: '60', unit: 'N·m', minus: '3', plus: '3' }, '60 N·m ±3'],
    [{ target: '60', unit: 'N·m', minus: '2', plus: '4' }, '60 N·m −2 +4'],
    [{ target: '90', unit: '°', minus: '0', plus: '0' }, '90°'],
    [{ target: '', method: 'release' as const }, 'release, any torque'],
  ])('%o', (news, words) => expect(targetWords({ ...nextStage([]), ...news })).toBe(words))
})
