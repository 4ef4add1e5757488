import type { Item } from './shapes.ts'
import { picture } from './picture.ts'
import { say } from './say.ts'

/** The preview of a record's picture; nothing when it has none. The record's words stand beside it, so it needs no text of its own. */
export function Thumb({ item }: { item: Item }) {
  const medium = picture(item)
  if (!medium) return null
  if (!medium.preview && !medium.here) return <span class="thumb thumb-absent centred soft tiny">{say('record.thumb_absent')}</span>
  return (
    <img
      class="thumb"
      src={preview(medium.sha256, 320, medium.preview)}
      alt=""
      loading="lazy"
      decoding="async"
      width="96"
      height="72"
    />
  )
}

/** Address of a preview of that width, or of the original while there is no preview. */
export function preview(sha256: string, width: 320 | 1600, made: boolean): string {
  return made ? `/api/media/${sha256}/preview/${width}` : original(sha256)
}

export function original(sha256: string): string {
  return `/api/media/${sha256}/original`
}
