// How figures are said, as rules of a grammar: eighty eight point nine four, point oh two, three and a half.
// The twin of trade/spoken/number_rules.py. Every digit is as likely as every other.

import { NOTHING, type Rules, type Ways, either, maybe, oneOf } from './jsgf.ts'
import { NUMBERS } from './words.ts'

// Words that sound like another of the same meaning are left to one of them.
const ALIKE = ['o', 'naught', 'num', 'nr']
const NOUGHTS: Record<string, number> = { oh: 6, zero: 3, nought: 1 }

/** A whole number from 1 to 99 as it is said: "seventeen", "forty two". */
export function counted(number: number): string {
  if (number < 10) return spelled(NUMBERS.digits, number)
  if (number < 20) return spelled(NUMBERS.teens, number)
  const ten = spelled(NUMBERS.tens, number - (number % 10))
  return number % 10 ? `${ten} ${spelled(NUMBERS.digits, number % 10)}` : ten
}

function spelled(words: Record<string, string>, number: number): string {
  return Object.keys(words).find((word) => words[word] === String(number) && !ALIKE.includes(word))!
}

const each = (words: string[]): Ways => words.map((word) => [1, word])

/** The rule of a value, <number>. `thousands`: engine speeds and pressures have them. */
export function number(rules: Rules, thousands: boolean): string {
  if (rules.has('number')) return '<number>'
  const digits: Record<string, string> = NUMBERS.digits
  rules.add('digit', each(Object.keys(digits).filter((word) => digits[word] !== '0')))
  rules.add('nought', Object.keys(digits).filter((word) => word in NOUGHTS).map((word) => [NOUGHTS[word]!, word]))
  rules.add('figure', [[9, '<digit>'], [1, '<nought>']])
  rules.add('teen', each(Object.keys(NUMBERS.teens)))
  rules.add('ten', each(Object.keys(NUMBERS.tens)))
  rules.add('tens', [[10, '<teen>'], [80, `<ten> ${maybe('<digit>', 9, 10)}`]])
  rules.add('below', [[1, '<digit>'], [3, '<tens>']])
  const hundreds = `${oneOf([[9, '<digit>'], [1, 'a']])} hundred ${maybe('(and | <NULL>) <below>', 9, 10)}`
  rules.add('hundreds', [[1, hundreds]])
  const whole: Ways = [[30, '<digit>'], [60, '<tens>'], [12, '<hundreds>']]
  if (thousands) {
    const rest = oneOf([[2, NOTHING], [4, '<digit> hundred'], [1, '<hundreds>']])
    rules.add('thousands', [[1, `<below> thousand ${rest}`]])
    whole.push([12, '<thousands>'])
  }
  rules.add('whole', whole)
  const third = `<figure> ${maybe('<figure>', 1, 5)}`
  const second = `<figure> ${maybe(third, 2, 5)}`
  rules.add('after', [[1, `point <figure> ${maybe(second, 3, 4)}`]])
  const ways: Ways = [
    [40, '<whole> <after>'],
    [30, '<whole>'],
    [20, `${maybe('<nought>', 1, 3)} <after>`],
    [4, '<whole> and a half'],
    [3, `<digit> <figure> ${maybe('<after>', 2, 3)}`],
    [2, '<tens> <figure> <figure>'],
  ]
  return rules.add('number', [[1, `${maybe('minus', 1, 60)} (${either(ways)})`]])
}

/** Two hundredths of a millimetre. */
export function partOfUnit(rules: Rules, unit: string): string {
  const parts = '((a | one) (tenth | hundredth) | <below> (tenths | hundredths))'
  return rules.add('part_of_unit', [[1, `${parts} of a ${unit}`]])
}
