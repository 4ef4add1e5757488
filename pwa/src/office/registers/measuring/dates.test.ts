import { expect, it } from 'vitest'
import { dateWords, dueWords, today } from './dates.ts'

it.each([
  ['', 'no due date'],
  ['2026-09-02', 'due today'],
  ['2026-09-01', 'overdue since 1 Sep 2026, 1 day'],
  ['2026-07-23', 'overdue since 23 Jul 2026, 41 days'],
  ['2026-09-14', 'due 14 Sep 2026, in 12 days'],
  ['2027-03-01', 'due 1 Mar 2027'],
])('a gauge due "%s" on 2 September: %s', (due, words) => expect(dueWords(due, '2026-09-02')).toBe(words))

it('says a day as the trade writes it', () => {
  expect(dateWords('2026-09-02')).toBe('2 Sep 2026')
  expect(dateWords('soon')).toBe('soon')
  expect(today(new Date(2026, 8, 2, 23, 59))).toBe('2026-09-02')
})
