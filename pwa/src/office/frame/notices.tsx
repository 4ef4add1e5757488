import type { ComponentChildren } from 'preact'

/** A refusal or fault in words, announced when it appears. Nothing is drawn while there is none. */
export function FaultNotice({ children }: { children: ComponentChildren }) {
  return (
    <div role="alert" class="fault-slot">
      {children ? <p class="fault noted bold">{children}</p> : null}
    </div>
  )
}

/** What was done, in a sentence that is read out but does not take the focus. */
export function DoneNotice({ children }: { children: ComponentChildren }) {
  return (
    <div role="status" class="done-slot">
      {children ? <p class="done noted is-done">{children}</p> : null}
    </div>
  )
}

/** A list that has nothing in it says why and what to do. */
export function EmptyNotice({ children }: { children: ComponentChildren }) {
  return <p class="empty">{children}</p>
}
