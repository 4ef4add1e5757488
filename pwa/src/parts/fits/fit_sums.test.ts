import { describe, expect, it } from 'vitest'
import { inkOf } from './fit_ink.ts'
import { BLANK, MATERIALS, ofMaterial, sums, type Typed } from './fit_sums.ts'

const of = (typed: Partial<Typed>) => sums({ ...BLANK, ...typed })
const STEEL = { ...ofMaterial('hub', 'steel_1020'), ...ofMaterial('shaft', 'steel_1020') }

describe('fits', () => {
  it('opens with a fit that is drawn and worked out', () => {
    const result = of({})
    expect(result.wrong).toEqual({})
    expect([result.kind, result.usual, result.size]).toEqual(['interference fit', 'located, interference', '20 mm'])
    expect(result.rows.map((row) => [row.name, row.code, row.largest, row.smallest])).toEqual([
      ['hole', 'H7', '20.021', '20.000'],
      ['shaft', 'p6', '20.035', '20.022'],
    ])
    expect(result.dimensions.map((dimension) => `${dimension.number} ${dimension.words} ${dimension.amount}`)).toEqual([
      '1 least interference 1 µm',
      '2 greatest interference 35 µm',
    ])
  })

  it('says how measured sizes stand, as typed', () => {
    const result = of({ hole: '20.025', shaft: '20,02' })
    expect(result.rows.map((row) => [row.measured, row.standing])).toEqual([
      ['20.025', '4 µm above its largest size'],
      ['20,02', '2 µm below its smallest size'],
    ])
    expect(result.dimensions[2]).toMatchObject({ number: 3, words: 'clearance as measured', amount: '5 µm' })
  })

  it('works a press fit out for each interference that can be', () => {
    // Constructed from Shigley, Mechanical Engineering Design, 9th edition, equation 3-56; see tests/outside.
    const result = of({ ...STEEL, code: '40 H7/s6', hole: '40.010', shaft: '40.040', hubOuter: '80', length: '40' })
    expect(result.pressWants).toBe('')
    expect(result.cases.map((fitCase) => `${fitCase.name} ${fitCase.interference}`)).toEqual(['least 18 µm', 'greatest 59 µm', 'as measured 30 µm'])
    const measured = Object.fromEntries(result.cases[2]!.press.map((line) => [line.name, line.value]))
    expect(measured['contact pressure, MPa']).toBe('58.2')
    expect(measured['press force, kN']).toMatch(/^35\.1\d$/)
    expect(result.cases.map((fitCase) => fitCase.heat)).toEqual(['123', '211', '149'])
    expect(result.cautions.at(-1)).toContain('above 150 °C')
  })

  it('asks for what is missing, and only for that', () => {
    expect(of({}).pressWants).toBe('Still to be typed: outside diameter of the hub, material of the hub, material of the shaft.')
    expect(of({ ...STEEL, hubOuter: '40' }).pressWants).toBe('For the press force, type the length of the seat and the coefficient of friction.')
    expect(of({ hubAlpha: '11.7', shaftTemperature: '-70' }).heatWants).toBe('Still to be typed: expansion of the shaft.')
    expect(of({ code: '20 H7' }).pressWants).toBe('Type a hole and a shaft above first.')
    expect(of({ code: '50 H8/f7' }).pressWants).toBe('No interference: the parts go together without force.')
  })

  it('says a fault beside its field', () => {
    expect(of({ code: '20 Y7/p6' }).wrong.code).toContain('The letter Y is not in the tables here')
    expect(of({ hole: 'about 20' }).wrong.hole).toContain('is not a number')
    expect(of({ shaft: '20 bar' }).wrong.shaft).toBe('bar is not a unit of length. Use mm or in.')
    expect(of({ ...STEEL, hubOuter: '19' }).wrong.hubOuter).toContain('must be larger than the seat')
    expect(of({ friction: '0.1 mm' }).wrong.friction).toContain('the number only')
    expect(of({ code: '' }).drawn).toBeNull()
  })

  it('offers every metal that both tables have', () => {
    expect(MATERIALS.length).toBeGreaterThan(10)
    expect(ofMaterial('hub', 'grey_iron')).toEqual({ hub: 'grey_iron', hubModulus: '100', hubPoisson: '0.211', hubAlpha: '11.4' })
    expect(ofMaterial('shaft', '').shaftModulus).toBe('')
  })
})

describe('where the ink goes', () => {
  it('puts the zones to scale about the zero line', () => {
    const ink = inkOf(of({}).drawn!)
    const [hole, shaft] = [ink.hole!, ink.shaft!]
    expect(hole.bottom).toBeCloseTo(ink.zero)
    // 21 µm of hole, 13 µm of shaft.
    expect((hole.bottom - hole.top) / (shaft.bottom - shaft.top)).toBeCloseTo(21 / 13)
    expect(ink.dimensions.map((dimension) => dimension.number)).toEqual([1, 2])
  })

  it('keeps a size that is far off at the edge', () => {
    const ink = inkOf(of({ hole: '21' }).drawn!)
    expect(ink.off).toBe(true)
    expect(ink.holeAt).toBeLessThan(ink.hole!.top)
    expect(ink.holeAt).toBeGreaterThan(0)
  })
})
