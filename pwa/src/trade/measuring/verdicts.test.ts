import { describe, expect, it } from 'vitest'
import { amount, text, vectors } from '../../../support/made.ts'
import type { Rule } from './rules.ts'
import { factor } from './uncertainty.ts'
import { judge } from './verdicts.ts'

type Text = string | null
const { judged } = vectors('verdicts.json')

describe('verdicts, as on the server', () => {
  it.each<[string, Text, number | null, Text, Text, Rule, object]>(judged)(
    '%s with variance %s, %s degrees of freedom, between %s and %s, %s',
    (size, variance, dof, low, high, rule, verdict) => {
      const budget = { variance: amount(variance), dof, k: factor(dof), lines: [], unknown: [] }
      const judgement = judge(amount(size), budget, amount(low), amount(high), rule)
      expect({
        ...judgement,
        excess: text(judgement.excess),
        probability: text(judgement.probability),
        guard2: text(judgement.guard2),
      }).toEqual(verdict)
    },
  )
})
