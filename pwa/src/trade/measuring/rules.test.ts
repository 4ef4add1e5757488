import { describe, expect, it } from 'vitest'
import { vectors } from '../../../support/made.ts'
import { DEFAULT, RULES } from './rules.ts'

const cases = vectors('measuring_rules.json')

describe('measuring rules, as on the server', () => {
  it('counts the same when nobody has set any', () => {
    expect({ default: DEFAULT, rules: RULES }).toEqual({ default: cases.default, rules: cases.rules })
  })
})
