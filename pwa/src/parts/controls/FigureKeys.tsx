import { Gap, RubOut, Stroke } from './icons.tsx'
import { say } from '../words/say.ts'
import './keys.css'

export interface FigureKeysProps {
  value: string
  onValue: (value: string) => void
  /** The unit that goes with what is typed, on a key of its own. */
  unit: string
  onUnit: () => void
  most?: number
}

/** Big keys for figures: digits, point, sign, and the two keys a vulgar fraction needs (3, gap, 1, stroke, 2). */
export function FigureKeys({ value, onValue, unit, onUnit, most = 24 }: FigureKeysProps) {
  const press = (key: string) => value.length < most && onValue(value + key)
  const turn = () => onValue(value.startsWith('-') ? value.slice(1) : `-${value.replace(/^\+/, '')}`)
  const digit = (key: string) => (
    <button key={key} type="button" class="is-digit" onClick={() => press(key)}>
      {key}
    </button>
  )
  return (
    <div class="figure-keys line-over keeps ring-inside" role="group" aria-label={say('keys.keypad')}>
      {['7', '8', '9'].map(digit)}
      <button type="button" aria-label={say('keys.delete')} onClick={() => onValue(value.slice(0, -1))}>
        <RubOut size={30} />
      </button>
      {['4', '5', '6'].map(digit)}
      <button type="button" aria-label={say('keys.sign')} onClick={turn}>
        ±
      </button>
      {['1', '2', '3'].map(digit)}
      <button type="button" aria-label={say('keys.stroke')} onClick={() => press('/')}>
        <Stroke size={30} />
      </button>
      <button type="button" class="is-unit" aria-label={say('keys.unit', { unit: unit || say('keys.no_unit') })} onClick={onUnit}>
        {unit || say('keys.count')}
      </button>
      {digit('0')}
      <button type="button" class="is-digit" aria-label={say('keys.point')} onClick={() => press(value === '' ? '0.' : '.')}>
        .
      </button>
      <button type="button" aria-label={say('keys.space')} onClick={() => value !== '' && press(' ')}>
        <Gap size={30} />
      </button>
    </div>
  )
}
