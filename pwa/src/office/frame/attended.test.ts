import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import { noticeHands, unattended } from './attended.ts'

beforeEach(() => vi.useFakeTimers({ now: Date.now() }))
afterEach(() => vi.useRealTimers())

test('a page nobody touches says so after a minute, and no longer once somebody does', () => {
  const page = new EventTarget()
  noticeHands(page)
  page.dispatchEvent(new Event('keydown'))
  expect(unattended()).toEqual({})
  vi.advanceTimersByTime(60_001)
  expect(unattended()).toEqual({ 'Witnessmark-Unattended': '1' })
  page.dispatchEvent(new Event('pointermove'))
  expect(unattended()).toEqual({})
})
