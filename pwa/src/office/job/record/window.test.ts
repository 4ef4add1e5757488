import { expect, it } from 'vitest'
import type { Item, Page } from '../../frame/shapes.ts'
import { addEarlier, addLater, fromPage, MOST, refreshed, targets } from './window.ts'

function exhibit(number: number, more: Partial<Item> = {}): Item {
  return { exhibit: number, position: number * 10, id: `id-${number}`, kind: 'note_made', body: {}, ...more } as Item
}

function page(from: number, to: number, more: Partial<Page> = {}): Page {
  const items = Array.from({ length: to - from + 1 }, (_, i) => exhibit(from + i))
  return { items, previous: from > 1 ? from : null, next: to, total: 1000, also: [], ...more }
}

const numbers = (items: Item[]) => items.map((item) => item.exhibit)

it('a page that overlaps what is held shows no record twice and skips none', () => {
  const grown = addLater(fromPage(page(1, 50)), page(41, 60))
  expect(numbers(grown.items)).toEqual(Array.from({ length: 60 }, (_, i) => i + 1))
})

it('a long record never holds more lines than one sheet, and what fell off can be fetched again', () => {
  let held = fromPage(page(1, 50))
  for (let from = 51; from < 551; from += 50) held = addLater(held, page(from, from + 49))
  expect(held.items).toHaveLength(MOST)
  expect(held.items.at(-1)!.exhibit).toBe(550)
  // The cursor to go back with is the first line that stands.
  expect(held.previous).toBe(held.items[0]!.exhibit)

  const back = addEarlier(held, page(held.items[0]!.exhibit! - 50, held.items[0]!.exhibit! - 1))
  expect(back.items).toHaveLength(MOST)
  expect(back.next).toBe(back.items.at(-1)!.exhibit)
})

it('at the first record there is nothing earlier to fetch', () => {
  const held = addEarlier(fromPage(page(51, 100)), page(1, 50))
  expect(held.previous).toBeNull()
})

it('a picture that arrives changes its line and no other', () => {
  const held = fromPage(page(1, 3))
  const newer = refreshed(held, [exhibit(2, { title: 'with its picture' })])
  expect(newer.items[1]!.title).toBe('with its picture')
  expect(newer.items[0]).toBe(held.items[0])
})

it('a correction names the record it speaks about, a note none', () => {
  const correction = exhibit(9, { kind: 'entry_corrected', body: { entry: 'id-4' } })
  const withdrawal = exhibit(10, { kind: 'entry_withdrawn', body: { entry: 'id-4' } })
  expect(targets([correction, withdrawal, exhibit(11, { body: { entry: 'id-5' } })])).toEqual(['id-4'])
  const heard = exhibit(12, { kind: 'transcript_made', body: { entry: 'id-6' } })
  const recorded = exhibit(13, { kind: 'measured', body: { spoken: 'id-7' } })
  expect(targets([heard, recorded, exhibit(14, { kind: 'measured', body: { spoken: '' } })])).toEqual(['id-6', 'id-7'])
})
