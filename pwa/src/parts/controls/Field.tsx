import { useId } from 'preact/hooks'
import { say } from '../words/say.ts'
import './cells.css'
import './field.css'

export interface FieldProps {
  label: string
  value: string
  onValue: (value: string) => void
  hint?: string
  /** What is wrong and what to do about it; '' when nothing is. */
  wrong?: string
  lines?: number
  /** Figures are set in the mono, so that 0 and O, 1 and l differ. */
  figures?: boolean
  /** Which keyboard the phone shows. */
  keys?: 'text' | 'decimal' | 'numeric' | 'search'
  options?: { value: string; words: string }[]
  suggestions?: readonly string[]
  /** Written unseen, as a password is. */
  secret?: boolean
  /** What a browser may fill in here, as HTML's autocomplete names it; nothing unless given. */
  fill?: 'username' | 'current-password' | 'new-password' | 'off'
  /** A day, chosen from the browser's own calendar; its value is "2026-09-02". */
  date?: boolean
  needed?: boolean
  autoFocus?: boolean
  name?: string
}

/** A cell to write in, drawn like a cell of the title block: small label above, the hand's words below. */
export function Field(props: FieldProps) {
  const id = useId()
  const about = `${id}-about`
  const { label, value, onValue, hint, wrong, lines, options, suggestions } = props
  const shared = {
    id,
    value,
    name: props.name,
    class: `field-in${props.figures ? ' figure' : ''}`,
    'aria-invalid': wrong ? true : undefined,
    'aria-describedby': hint || wrong ? about : undefined,
    required: props.needed,
    autoComplete: props.fill ?? 'off',
    onInput: (event: { currentTarget: { value: string } }) => onValue(event.currentTarget.value),
  } as const
  return (
    <div class={`field${wrong ? ' is-wrong' : ''}`}>
      <label class="cell-label" for={id}>
        {label}
        {props.needed && <span class="caution"> {say('field.needed')}</span>}
      </label>
      {options ? (
        <select {...shared}>
          {options.map((o) => (
            <option key={o.value} value={o.value}>
              {o.words}
            </option>
          ))}
        </select>
      ) : lines ? (
        <textarea {...shared} rows={lines} autoFocus={props.autoFocus} />
      ) : suggestions ? (
        <input {...shared} type="text" inputMode={props.keys ?? 'text'} list={`${id}-list`} autoFocus={props.autoFocus} />
      ) : (
        <input {...shared} type={(props.secret ? 'password' : props.date ? 'date' : 'text') as 'text'} inputMode={props.keys ?? 'text'} autoFocus={props.autoFocus} />
      )}
      {suggestions && (
        <datalist id={`${id}-list`}>
          {suggestions.map((s) => (
            <option key={s} value={s} />
          ))}
        </datalist>
      )}
      {(wrong || hint) && (
        <p id={about} class={wrong ? 'field-wrong' : 'field-hint'}>
          {wrong || hint}
        </p>
      )}
    </div>
  )
}

/** A few words to choose from, drawn as a row of cells; several may be chosen when `many`. */
export function Choice<T extends string>(props: {
  label: string
  options: { value: T; words: string }[]
  chosen: readonly T[]
  onChoose: (value: T) => void
  many?: boolean
}) {
  const id = useId()
  return (
    <div class="choice" role="group" aria-labelledby={id}>
      <p class="cell-label" id={id}>
        {props.label}
      </p>
      <div class="choice-row wraps">
        {props.options.map((o) => (
          <button key={o.value} type="button" aria-pressed={props.chosen.includes(o.value)} onClick={() => props.onChoose(o.value)}>
            {o.words}
          </button>
        ))}
      </div>
    </div>
  )
}
