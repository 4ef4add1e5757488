import type { ComponentChildren } from 'preact'
import { say } from '../../frame/say.ts'

interface Props {
  name: string
  hint?: string | undefined
  /** The words of the button that adds a line, and what it does. */
  add?: string
  onAdd?: () => void
  fault?: string
  children: ComponentChildren
}

/** A list of lines under a name, with a button that adds one. */
export function Group({ name, hint, add, onAdd, fault, children }: Props) {
  return (
    <fieldset class="group">
      <legend class="bold">{name}</legend>
      {hint && <p class="soft small">{hint}</p>}
      {children}
      {fault && <p class="field-wrong">{fault}</p>}
      {add && (
        <button type="button" class="plain" onClick={onAdd}>
          {add}
        </button>
      )}
    </fieldset>
  )
}

/** Takes a line out of its list; `label` says which. */
export function RemoveButton({ label, onRemove }: { label: string; onRemove: () => void }) {
  return (
    <button type="button" class="plain line-out" onClick={onRemove} aria-label={label}>
      {say('common.remove')}
    </button>
  )
}
