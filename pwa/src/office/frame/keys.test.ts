import { expect, it, test, vi } from 'vitest'
import { noticeHands, unattended } from './attended.ts'
import { isTyping, keyName } from './keys.ts'

it('a key is known by what it writes, whatever the keyboard needs for it', () => {
  expect(keyName({ key: '?', shiftKey: true })).toBe('?')
  expect(keyName({ key: '/', shiftKey: false })).toBe('/')
  expect(keyName({ key: 'Enter', shiftKey: true })).toBe('shift+Enter')
})

it('letters belong to what is being typed, never to the sheet behind it', () => {
  const element = (tagName: string, type = '') =>
    ({ tagName, type, isContentEditable: false }) as unknown as HTMLElement
  expect(isTyping(element('INPUT', 'search'))).toBe(true)
  expect(isTyping(element('TEXTAREA'))).toBe(true)
  expect(isTyping(element('INPUT', 'checkbox'))).toBe(false)
  expect(isTyping(element('BUTTON'))).toBe(false)
  expect(isTyping(null)).toBe(false)
})

test('a page nobody touches says so after a minute, and no longer once somebody does', () => {
  vi.useFakeTimers({ now: Date.now() })
  const page = new EventTarget()
  noticeHands(page)
  page.dispatchEvent(new Event('keydown'))
  expect(unattended()).toEqual({})
  vi.advanceTimersByTime(60_001)
  expect(unattended()).toEqual({ 'Witnessmark-Unattended': '1' })
  page.dispatchEvent(new Event('pointermove'))
  expect(unattended()).toEqual({})
  vi.useRealTimers()
})
