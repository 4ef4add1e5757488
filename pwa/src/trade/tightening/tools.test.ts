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

  it.each<any>(cases.fits)('$tool for $target $unit', (vector) => {
    const objections = () => fits(register[vector.tool]!, vector.method, vector.target, vector.unit)
    if (vector.refused) return expect(objections).toThrow(vector.refused)
    expect(objections()).toEqual(vector.against)
  })

  it.each<any>(cases.set_values)('$torque $unit through $extension', (vector) => {
    const setting = () => setValue(amount(vector.torque), amount(vector.length), amount(vector.extension), vector.in_line)
    if (vector.refused) return expect(setting).toThrow(vector.refused)
    expect([text(setting()), setText(toSi(setting(), vector.unit), vector.unit)]).toEqual([vector.value, vector.text])
  })

  it('is the smaller the longer the extension is, and the torque itself at a right angle', () => {
    const [torque, length] = [amount('120'), amount('400')]
    const values = ['0.1', '20', '150', '399', '1200'].map((extension) => setValue(torque, length, amount(extension)))
    values.forEach((value, at) => expect(compare(value, values[at - 1] ?? torque)).toBeLessThan(0))
    expect(setValue(torque, length, amount('150'), false)).toEqual(torque)
  })
})
