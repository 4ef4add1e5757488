import { describe, expect, it } from 'vitest'
import { clockTime, waitingText } from './words.ts'

const now = new Date(2026, 4, 14, 16, 0)

describe('times', () => {
  it('show a claimed time as it was claimed, whatever the zone of this phone', () => {
    expect(clockTime('2026-05-14T10:38:07.120+01:00', now)).toBe('10:38')
    expect(clockTime('2026-05-12T23:59:07.120-09:00', now)).toBe('12 May 23:59')
  })
  it('say nothing when there is no time', () => expect(clockTime(null, now)).toBe(''))
})

describe('what waits, in words', () => {
  it.each([
    [{ records: 0, pictures: 0, sounds: 0 }, ''],
    [{ records: 1, pictures: 0, sounds: 0 }, '1 record'],
    [{ records: 4, pictures: 3, sounds: 0 }, '4 records and 3 pictures'],
    [{ records: 4, pictures: 1, sounds: 2 }, '4 records, 1 picture and 2 recordings'],
  ])('%o: %s', (waiting, words) => expect(waitingText(waiting)).toBe(words))
})
