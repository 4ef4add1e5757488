import { useEffect, useRef } from 'preact/hooks'
import { Balloon } from '../../../parts/controls/Balloon.tsx'
import { PhotoViewer } from '../../../parts/media/PhotoViewer.tsx'
import { Cross } from '../../../parts/controls/icons.tsx'
import { useKeys } from '../../frame/keys.ts'
import type { Item } from '../../frame/shapes.ts'
import { day, shortClock } from '../../frame/words.ts'
import { altOf } from './Evidence.tsx'
import { picture } from '../../frame/picture.ts'
import { choose, chosen, held } from './state.ts'
import { original, preview } from '../../frame/Thumb.tsx'

/** The picture alone, in every pixel it has; the neighbours are the next pictures of the record. */
export function Viewer({ close }: { close: () => void }) {
  const item = chosen.value
  const shown = item && picture(item)
  const pictures = held.value.items.filter((other) => picture(other))
  const at = item ? pictures.indexOf(item) : -1
  const to = (other: Item | undefined) => (other ? () => choose(other) : null)
  const next = to(pictures[at + 1])
  const previous = to(pictures[at - 1])
  // While the picture itself has the focus it moves itself; these are for when a button has it.
  const keys = { ArrowRight: next, j: next, ArrowLeft: previous, k: previous }
  useKeys(
    { Escape: close, ...Object.fromEntries(Object.entries(keys).map(([key, act]) => [key, () => act?.()])) },
    true,
  )
  const dialog = useRef<HTMLDialogElement>(null)
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
  if (!item || !shown) return null
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
        onPrevious={previous}
        onNext={next}
      />
    </dialog>
  )
}
