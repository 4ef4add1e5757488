import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { Window } from 'happy-dom'
import { prefer } from './hand.ts'

const outside = { document: globalThis.document, localStorage: globalThis.localStorage }

beforeEach(() => {
  const window = new Window()
  for (const ground of ['light', 'dark']) {
    const bar = window.document.createElement('meta')
    bar.name = 'theme-color'
    bar.dataset['ground'] = ground
    window.document.head.append(bar)
  }
  Object.assign(globalThis, { document: window.document, localStorage: window.localStorage })
})

afterEach(() => Object.assign(globalThis, outside))

const bars = () => [...document.querySelectorAll<HTMLMetaElement>('meta[name="theme-color"]')].map((bar) => bar.getAttribute('media'))

describe('the bar of the system above the app', () => {
  it('follows the phone while the theme does', () => {
    prefer({ theme: 'phone' })
    expect(bars()).toEqual(['(prefers-color-scheme: light)', '(prefers-color-scheme: dark)'])
    expect(document.documentElement.dataset['theme']).toBeUndefined()
  })
  it('has the ground of the theme that is chosen, whatever the phone wears', () => {
    prefer({ theme: 'dark' })
    expect(bars()).toEqual(['print', 'all'])
    prefer({ theme: 'light' })
    expect(bars()).toEqual(['all', 'print'])
    expect(document.documentElement.dataset['theme']).toBe('light')
  })
})
