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
import { say } from '../../frame/say.ts'
import './viewer.css'

/** The picture alone, in every pixel it has; its neighbours are the next pictures of the record. */
export function Viewer({ close }: { close: () => void }) {
  const item = chosen.value
  const shown = item && picture(item)
  const { previous, next } = neighbours(item)
  // While the picture itself has the focus it moves itself; these are for when a button has it.
  const keys = { ArrowRight: next, j: next, ArrowLeft: previous, k: previous }
  useKeys(
    { Escape: close, ...Object.fromEntries(Object.entries(keys).map(([key, act]) => [key, () => act?.()])) },
    true,
  )
  const dialog = useModal()
  if (!item || !shown) return null
  return (
    <dialog
      class="full ring-inside"
      ref={dialog}
      aria-label={say('record.viewer', { number: String(item.exhibit) })}
      onCancel={(event) => {
        event.preventDefault()
        close()
      }}
    >
      <header class="along wrapped">
        <Balloon number={item.exhibit} solid />
        <p>
          <b>{item.title}</b> {item.text}
        </p>
        <p class="figure">
          {day(item.claimed)} {shortClock(item.claimed)} · {shown.here ? say('record.original') : say('record.preview')}
          {item.body['width'] ? ` ${item.body['width']} × ${item.body['height']}` : ''}
        </p>
        {shown.here && (
          <a href={original(shown.sha256)} target="_blank" rel="noopener">
            {say('record.open_original')}
          </a>
        )}
        <button type="button" class="bare" onClick={close} aria-label={say('common.close')}>
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

/** Ways to the pictures before and after this record's; null at the ends. */
function neighbours(item: Item | null) {
  const pictures = held.value.items.filter((other) => picture(other))
  const at = item ? pictures.indexOf(item) : -1
  const to = (other: Item | undefined) => (other ? () => choose(other) : null)
  return { previous: to(pictures[at - 1]), next: to(pictures[at + 1]) }
}

/** A dialog that is open while it stands; the focus then returns to where it was. */
function useModal() {
  const dialog = useRef<HTMLDialogElement>(null)
  useEffect(() => {
    const opened = dialog.current
    const before = document.activeElement as HTMLElement | null
    opened?.showModal()
    opened?.querySelector<HTMLElement>('.viewer-frame')?.focus()
    return () => {
      opened?.close()
      before?.focus?.()
    }
  }, [])
  return dialog
}
