import { describe, expect, it } from 'vitest'
import { amount, text, vectors } from '../../../support/made.ts'
import { deviation, fits, setText, setValue, type TorqueTool } from './tools.ts'
import { compare } from '../ground/amounts.ts'
import { toSi } from '../ground/units.ts'

const cases = vectors('torque_tools.json')
const register: Record<string, TorqueTool> = cases.tools

describe('torque tools, as on the server', () => {
  it.each<[string, string | null, string]>(cases.deviations)('%s may be off by %s %%', (name, percent, source) => {
    const [may, why] = deviation(register[name]!)
    expect([text(may), why]).toEqual([percent && `${percent}/1`, source])
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

  it('is the smaller the longer the extension is, and the torque itself at a right angle', () => {
    const [torque, length] = [amount('120'), amount('400')]
    const values = ['0.1', '20', '150', '399', '1200'].map((extension) => setValue(torque, length, amount(extension)))
    values.forEach((value, at) => expect(compare(value, values[at - 1] ?? torque)).toBeLessThan(0))
    expect(setValue(torque, length, amount('150'), false)).toEqual(torque)
  })
})
