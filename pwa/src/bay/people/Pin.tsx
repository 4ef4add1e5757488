import type { ComponentChildren } from 'preact'
import { say } from '../frame/say.ts'

export interface PinProps {
  class: string
  pin: string
  onPin: (pin: string) => void
  onEnter: () => void
  /** Below the figures: what was wrong, keys, buttons. */
  children: ComponentChildren
}

/** A PIN, typed on our own keys or on a keyboard; its figures are never shown. */
export function Pin({ class: classes, pin, onPin, onEnter, children }: PinProps) {
  return (
    <form
      class={classes}
      onSubmit={(event) => {
        event.preventDefault()
        onEnter()
      }}
    >
      <input
        class="pin-in figure"
        type="password"
        inputMode="none"
        autoComplete="off"
        aria-label={say('people.pin')}
        value={pin}
        maxLength={12}
        onInput={(event) => onPin(event.currentTarget.value.replace(/\D/g, ''))}
      />
      {children}
    </form>
  )
}
