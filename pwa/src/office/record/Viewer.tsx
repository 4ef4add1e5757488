import { useEffect, useRef } from 'preact/hooks'
import { Balloon } from '../../parts/Balloon.tsx'
import { PhotoViewer } from '../../parts/PhotoViewer.tsx'
import { Cross } from '../../parts/icons.tsx'
import { useKeys } from '../keys.ts'
import type { Item } from '../shapes.ts'
import { day, shortClock } from '../words.ts'
import { altOf } from './Exhibit.tsx'
import { picture } from './picture.ts'
import { choose, chosen, held } from './state.ts'
import { original, preview } from './Thumb.tsx'

/** The picture alone, in every pixel it has; the neighbours are the next pictures of the record. */
export function Viewer({ close }: { close: () => void }) {
  const dialog = useRef<HTMLDialogElement>(null)
  useKeys({ Escape: close }, true)
  useEffect(() => {
    const standing = dialog.current
    const before = document.activeElement as HTMLElement | null
    standing?.showModal()
    standing?.querySelector<HTMLElement>('.viewer-frame')?.focus()
    return () => {
      standing?.close()
      before?.focus?.()
    }
  }, [])
  const item = chosen.value
  const shown = item && picture(item)
  if (!item || !shown) return null
  const pictures = held.value.items.filter((other) => picture(other))
  const at = pictures.indexOf(item)
  const to = (other: Item | undefined) => (other ? () => choose(other) : null)
  return (
    <dialog
      class="full"
      ref={dialog}
      aria-label={`Exhibit ${item.exhibit} in full`}
      onCancel={(event) => {
        event.preventDefault()
        close()
      }}
    >
      <header>
        <Balloon number={item.exhibit} solid />
        <p>
          <b>{item.title}</b> {item.text}
        </p>
        <p class="figure">
          {day(item.claimed)} {shortClock(item.claimed)} · {shown.here ? 'original' : 'preview'}
          {item.body['width'] ? ` ${item.body['width']} × ${item.body['height']}` : ''}
        </p>
        {shown.here && (
          <a href={original(shown.sha256)} target="_blank" rel="noopener">
            Open original
          </a>
        )}
        <button type="button" class="bare" onClick={close} aria-label="Close">
          <Cross size={24} />
        </button>
      </header>
      <PhotoViewer
        src={shown.here ? original(shown.sha256) : preview(shown.sha256, 1600, true)}
        alt={altOf(item)}
        onPrevious={to(pictures[at - 1])}
        onNext={to(pictures[at + 1])}
      />
    </dialog>
  )
}
