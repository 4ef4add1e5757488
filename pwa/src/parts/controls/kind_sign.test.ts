import { expect, it } from 'vitest'
import { KINDS } from '../../trade/record/kinds.ts'
import * as icons from './icons.tsx'

it.each(Object.values(KINDS))('$name has a sign that is drawn', ({ sign }) => {
  expect(typeof icons[sign as keyof typeof icons]).toBe('function')
})
