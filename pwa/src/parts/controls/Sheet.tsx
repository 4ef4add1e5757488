import type { ComponentChildren } from 'preact'
import { useEffect, useRef } from 'preact/hooks'
import { Cross } from './icons.tsx'
import { say } from '../words/say.ts'
import './sheet.css'

/** A sheet laid over the lower part of the screen, where the thumb is. Escape, the cross or a touch beside it closes it. */
export function Sheet({ title, onClose, children }: { title: string; onClose: () => void; children: ComponentChildren }) {
  const sheet = useRef<HTMLDialogElement>(null)
  useEffect(() => {
    const dialog = sheet.current
    if (dialog && !dialog.open) dialog.showModal()
    return () => dialog?.close()
  }, [])
  return (
    <dialog
      class="sheet whole thick-over"
      ref={sheet}
      aria-label={title}
      onCancel={(event) => {
        event.preventDefault()
        onClose()
      }}
      onClick={(event) => event.target === sheet.current && onClose()}
    >
      <div class="sheet-inside">
        <div class="sheet-head along ends">
          <h2>{title}</h2>
          <button type="button" class="bare" aria-label={say('sheet.close')} onClick={onClose}>
            <Cross />
          </button>
        </div>
        {children}
      </div>
    </dialog>
  )
}
