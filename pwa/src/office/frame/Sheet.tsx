import type { ComponentChildren } from 'preact'
import { useEffect, useId, useRef } from 'preact/hooks'
import { useKeys } from './keys.ts'
import { say } from './say.ts'
import './leaf.css'

interface Props {
  title: string
  close: () => void
  /** 'side' slides over the right of the page, 'middle' is centred. */
  stand?: 'side' | 'middle'
  children: ComponentChildren
}

/** A sheet laid over the page. Esc or its own button closes it; what is under it cannot be reached meanwhile. */
export function Sheet({ title, close, stand = 'side', children }: Props) {
  const sheet = useRef<HTMLDialogElement>(null)
  const name = useId()
  useKeys({ Escape: close }, true)
  useEffect(() => {
    const standing = sheet.current
    const before = document.activeElement as HTMLElement | null
    standing?.showModal()
    const first = standing?.querySelector<HTMLElement>('.leaf-body :is(input:not([tabindex="-1"]), textarea, select)')
    first?.focus()
    return () => {
      standing?.close()
      before?.focus?.()
    }
  }, [])
  return (
    <dialog
      ref={sheet}
      class={`leaf leaf-${stand}`}
      aria-labelledby={name}
      onCancel={(event) => {
        event.preventDefault()
        close()
      }}
    >
      <header class="leaf-head along ends">
        <h2 id={name}>{title}</h2>
        <button type="button" class="plain" onClick={close}>
          {say('common.close')}
        </button>
      </header>
      <div class="leaf-body">{children}</div>
    </dialog>
  )
}
