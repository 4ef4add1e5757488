import { RubOut } from './icons.tsx'
import { say } from '../words/say.ts'
import './keys.css'

const KEYS = ['7', '8', '9', '4', '5', '6', '1', '2', '3'] as const

export interface KeypadProps {
  value: string
  onValue: (value: string) => void
  /** The key at the lower left: a decimal point for figures, nothing for a PIN. */
  point?: boolean
  /** A key that changes the sign: a projection can be a recess. */
  sign?: boolean
  /** Digits at most. */
  most?: number
  name?: string
}

/** Big keys for a gloved thumb. What is pressed is what is recorded: no digit is added, rounded or dropped. */
export function Keypad({ value, onValue, point = true, sign = false, most = 12, name = say('keys.keypad') }: KeypadProps) {
  const press = (key: string) => {
    if (key === '.' && value.includes('.')) return
    if (value.length < most) onValue(key === '.' && value === '' ? '0.' : value + key)
  }
  return (
    <div class="keypad line-over ring-inside" role="group" aria-label={name}>
      {KEYS.map((key) => (
        <button key={key} type="button" onClick={() => press(key)}>
          {key}
        </button>
      ))}
      <span class="keypad-pair">
        {point && (
          <button type="button" aria-label={say('keys.point')} onClick={() => press('.')}>
            .
          </button>
        )}
        {sign && (
          <button type="button" aria-label={say('keys.sign')} onClick={() => onValue(value.startsWith('-') ? value.slice(1) : `-${value}`)}>
            ±
          </button>
        )}
      </span>
      <button type="button" onClick={() => press('0')}>
        0
      </button>
      <button type="button" aria-label={say('keys.delete')} onClick={() => onValue(value.slice(0, -1))}>
        <RubOut size={34} />
      </button>
    </div>
  )
}
