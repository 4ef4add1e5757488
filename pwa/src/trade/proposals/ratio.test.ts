import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { times, whole } from '../ground/amounts.ts'
import { clearanceFor, gasketFor, ratio } from './ratio.ts'
import { decimalText, read, toSi } from '../ground/units.ts'

const vectors = JSON.parse(readFileSync(new URL('../../../../tests/vectors/ratio.json', import.meta.url), 'utf8'))
const mm = (text: string) => toSi(read(text).amount, 'mm')
const cc = (text: string) => toSi(read(text).amount, 'cm³')
const MILLION = whole(1_000_000)

describe('compression ratio', () => {
  it.each<any>(vectors.ratios)('$name', (one) => {
    const cylinder = {
      bore: mm(one.bore),
      stroke: mm(one.stroke),
      chamber: cc(one.chamber),
      gasketBore: mm(one.gasket_bore),
      gasketThickness: mm(one.gasket_thickness),
      deck: mm(one.deck),
      dish: cc(one.dish),
    }
    const made = () => ratio(cylinder, mm(one.skim))
    if (one.refused) return expect(made).toThrow(one.refused)
    expect([made().swept, made().clearance].map((volume) => decimalText(times(volume, MILLION), 6))).toEqual([
      one.swept,
      one.clearance,
    ])
    expect(decimalText(made().ratio, 9)).toBe(one.ratio)
    const gasket = gasketFor(mm(one.skim), cylinder.bore, cylinder.gasketBore)
    expect(decimalText(times(gasket, whole(1000)), 6)).toBe(one.gasket)
  })

  it.each<any>(vectors.wanted)('$ratio from $swept cm³', (one) => {
    const made = () => clearanceFor(cc(one.swept), read(one.ratio).amount)
    if (one.refused) return expect(made).toThrow(one.refused)
    expect(decimalText(times(made(), MILLION), 6)).toBe(one.clearance)
  })
})
