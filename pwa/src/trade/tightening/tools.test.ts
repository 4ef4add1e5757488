import { describe, expect, it } from 'vitest'
import { amount, text, vectors } from '../../../support/made.ts'
import { check, cyclesSince, deviation, fits, overdue, setText, setValue, type TorqueTool } from './tools.ts'
import { toSi } from '../ground/units.ts'

const cases = vectors('torque_tools.json')
const register: Record<string, TorqueTool> = cases.tools
const faults = (tool: unknown) => check(tool).map(({ where, message }) => [where, message])

describe('torque tools, as on the server', () => {
  it.each<any>(cases.checks)('faults of $of with $change', (one) => {
    expect(faults({ ...register[one.of], ...one.change })).toEqual(one.faults)
  })

  it.each<any>(cases.no_tools)('$given is no tool', (one) => {
    expect(faults(one.given)).toEqual(one.faults)
  })

  it.each<[string, string | null, string]>(cases.deviations)('%s may be off by %s %%', (name, percent, source) => {
    const [may, why] = deviation(register[name]!)
    expect([text(may), why]).toEqual([percent && `${percent}/1`, source])
  })

  it.each<any>(cases.overdue)('overdue: $tool, $claimed, $counted', (one) => {
    const tool = register[one.tool]!
    expect(cyclesSince(tool, one.counted)).toBe(one.since)
    expect(overdue(tool, one.claimed, one.counted)).toEqual(one.said)
  })

  it.each<any>(cases.fits)('$tool for $target $unit', (one) => {
    const found = () => fits(register[one.tool]!, one.method, one.target, one.unit)
    if (one.refused) return expect(found).toThrow(one.refused)
    expect(found()).toEqual(one.against)
  })

  it.each<any>(cases.set_values)('$torque $unit through $extension', (one) => {
    const found = () => setValue(amount(one.torque), amount(one.length), amount(one.extension), one.in_line)
    if (one.refused) return expect(found).toThrow(one.refused)
    expect([text(found()), setText(toSi(found(), one.unit), one.unit)]).toEqual([one.value, one.text])
  })
})
