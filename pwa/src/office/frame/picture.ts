import type { Item, Media } from './shapes.ts'

/** The record's first picture, if it has one. */
export function picture(item: Item): Media | undefined {
  return item.media.find((medium) => medium.type.startsWith('image/'))
}
