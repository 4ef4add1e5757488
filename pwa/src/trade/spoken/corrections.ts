// What was taken back and said anew: "no, scrap that", "I mean", "correction". The twin of trade/spoken/corrections.py.

import { has, makeItem, means, type Item } from './items.ts'
import { natural } from './numbers.ts'

/**
 * A part of a line between corrections. `correction`: "" for the first, "withdraw" (what was said before does not count),
 * "unsure" (it does not, or the thing itself is to be scrapped) or "replace" (what is said now counts).
 */
export interface Segment {
  correction: string
  items: Item[]
}

/** The line cut at its corrections; a number said anew at once takes the place of the one before it. */
export function segments(items: Item[]): Segment[] {
  const pieces: Segment[] = [{ correction: '', items: [] }]
  items.forEach((item, at) => {
    const correction = correctionAt(items, at)
    const last = pieces.at(-1)!
    if (correction === 'sign') last.items.push(makeItem('sign', [], item.tokens))
    else if (correction === 'disposition') last.items.push(makeItem('phrase', [['disposition', 'replace']], item.tokens))
    else if (!correction) last.items.push(item)
    else if (!last.items.length && last.correction) {
      // "No. I mean ...": one correction in two breaths, the stronger of them.
      if (correction !== 'replace') last.correction = correction
    } else pieces.push({ correction, items: [] })
  })
  return spliced(pieces)
}

function correctionAt(items: Item[], at: number): string {
  const item = items[at]!
  const [meant] = means(item, 'correction')
  if (meant === undefined) return ''
  if (has(item, 'negations') && item.said === 'no') {
    const [before, after] = [items[at - 1], items[at + 1]]
    if (after && !after.breaks && !item.breaks) {
      if (after.sort === 'number' && has(before, 'part')) return 'sign'
      if (canBeDenied(items, at + 1)) return ''
    }
    return 'replace'
  }
  return item.said === 'scrap that' ? scrapped(items, at) : meant
}

/**
 * "Scrap that" alone: the words. "Do not scrap that", "scrap that piston": the thing. At the end of a line that speaks of a
 * thing it may be either.
 */
function scrapped(items: Item[], at: number): string {
  const [before, after] = [items[at - 1], items[at + 1]]
  if (before && has(before, 'negations') && before.said !== 'no' && !items[at]!.breaks) return 'disposition'
  if (after && has(after, 'part') && !after.breaks) return 'disposition'
  return before && !after ? 'unsure' : 'withdraw'
}

/** "no cracks", "no visible cracks", "no wear": what follows is said not to be there. */
function canBeDenied(items: Item[], at: number): boolean {
  for (const item of items.slice(at, at + 3)) {
    if (item.breaks) return false
    if (has(item, 'condition', 'other_figures')) return true
    if (item.sort !== 'word' && !has(item, 'fillers')) return false
  }
  return false
}

/** "bore three, no, four reads ...": the number said anew is that of the bore. */
function spliced(pieces: Segment[]): Segment[] {
  const done: Segment[] = []
  for (const segment of pieces) {
    const last = done.at(-1)
    const first = segment.items[0]
    if (last && first && segment.correction === 'replace' && countsPart(last.items)) {
      if (first.sort === 'number' && natural(first.tokens)[1]) {
        last.items = [...last.items.slice(0, -1), ...segment.items]
        continue
      }
    }
    done.push(segment)
  }
  return done
}

/** True when the items end with a part and its number, and nothing of a value. */
function countsPart(items: Item[]): boolean {
  const [before, last] = items.slice(-2)
  if (!before || !last || last.sort !== 'number') return false
  const [text, used] = natural(last.tokens)
  const named = has(before, 'part', 'fastener', 'side') || before.sort === 'sign'
  return named && used === last.tokens.length && /^[0-9]{1,2}$/.test(text)
}
