import { describe, expect, it } from 'vitest'
import {
  atOffset,
  bytes,
  figure,
  day,
  dayAndClock,
  gap,
  listed,
  moment,
  offsetWords,
  print,
  setRightWords,
  span,
  visit,
} from './words.ts'

const MAY = new Date('2026-05-20T12:00:00Z')

describe('a phone time', () => {
  it('is read as the device wrote it, whatever zone the reader is in', () => {
    expect(moment('2026-05-14T10:38:07.120+01:00')).toEqual({
      year: 2026,
      month: 5,
      date: 14,
      clock: '10:38:07',
      offset: '+01:00',
    })
  })

  it('is shown as it stands when it is no time at all', () => {
    expect(moment('yesterday')).toBeNull()
    expect(day('yesterday', MAY)).toBe('yesterday')
  })

  it('carries its year only when that is not this one', () => {
    expect(day('2026-05-14T10:38:07.120+01:00', MAY)).toBe('Thu 14 May')
    expect(day('2025-05-14T10:38:07.120+01:00', MAY)).toBe('Wed 14 May 2025')
    expect(dayAndClock('2026-05-14T10:38:07.120+01:00', MAY)).toBe('14 May, 10:38')
  })
})

it('a server time is written with the offset of the phone time, and stays the same instant', () => {
  const shifted = atOffset('2026-05-13T23:42:51.000Z', '+01:00')
  expect(shifted).toBe('2026-05-14T00:42:51.000+01:00')
  expect(Date.parse(shifted)).toBe(Date.parse('2026-05-13T23:42:51.000Z'))
  expect(atOffset('2026-05-14T00:10:00.000Z', '-03:30')).toBe('2026-05-13T20:40:00.000-03:30')
})

describe('the gap between two records', () => {
  const at = (clock: string) => `2026-05-14T${clock}.000+01:00`

  it('is shown from twenty minutes on', () => {
    expect(gap(at('10:38:00'), at('10:57:59'))).toBe('')
    expect(gap(at('10:38:00'), at('10:58:00'))).toBe('20 min')
    expect(gap(at('10:38:00'), at('12:30:00'))).toBe('1 h 52 min')
  })

  it('is counted between instants, not between clock faces', () => {
    expect(gap('2026-10-25T01:30:00.000+01:00', '2026-10-25T01:30:00.000+00:00')).toBe('1 h')
  })

  it('points out a later record with an earlier phone time', () => {
    expect(gap(at('12:30:00'), at('12:18:00'))).toBe('12 min before the record above, by the phone')
  })
})

it('spans have at most two units', () => {
  expect(span(45_000)).toBe('45 s')
  expect(span(3_600_000)).toBe('1 h')
  expect(span((3 * 24 + 4) * 3_600_000 + 59_000)).toBe('3 days 4 h')
  expect(span(24 * 3_600_000)).toBe('1 day')
})

it('a clock is called slow when the server is ahead of it, fast when it is behind', () => {
  expect(offsetWords(2300)).toBe("This phone's clock was 2.3 s slow against the server's.")
  expect(offsetWords(-180_000, 'Its clock')).toBe("Its clock was 3 min fast against the server's.")
  expect(offsetWords(400)).toContain('agreed')
  expect(offsetWords(null)).toContain('had not been compared')
})

it('a time by a clock that was off is set right in the zone of its device', () => {
  expect(setRightWords('2026-05-14T23:59:00.000+01:00', 120_000)).toBe('Set right by that, the phone time is Fri 15 May, 00:01:00.')
  expect(setRightWords('2026-05-14T10:38:07.120+01:00', -7_387_120)).toContain('Thu 14 May, 08:35:00.')
})

it('a print can be read aloud in groups of four', () => {
  expect(print('9c1f04aa7be2' + '0'.repeat(48) + '51d0')).toBe('9c1f 04aa 7be2 … 51d0')
})

it('counts, sizes, lists and visits in words', () => {
  expect([figure(7), figure(5208)]).toEqual(['7', '5,208'])
  expect([bytes(900), bytes(312_400), bytes(3_400_000)]).toEqual(['900 bytes', '312 kB', '3.4 MB'])
  expect(listed(['rod 3', 'pin 2', 'head A'])).toBe('rod 3, pin 2 and head A')
  expect([visit(0), visit(2), visit(11)]).toEqual(['first visit', 'third visit', 'visit 12'])
})
