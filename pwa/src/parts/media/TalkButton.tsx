import { useEffect, useRef, useState } from 'preact/hooks'
import { Mouth, Stop } from '../controls/icons.tsx'
import { comesDown, HELD_MS, letsGo, STILL, type Does, type Talk } from './talk.ts'
import { say } from '../words/say.ts'
import '../controls/said.css'

export interface TalkProps {
  name: string
  /** The microphone is open, or about to be. */
  listening: boolean
  onBegin: () => void
  onEnd: () => void
  off?: boolean
  /** Called when a press turns into holding, and when nothing holds any more: the words beside it differ. */
  onHeld?: (held: boolean) => void
}

const KEYS = [' ', 'Enter']

/**
 * Held while somebody speaks; touched once to begin and once to end; space or enter do either. Sliding off ends it as
 * letting go does, and what was said is saved.
 */
export function TalkButton(props: TalkProps) {
  const { name, listening, off = false } = props
  const { held, down, up } = usePress(props)
  return (
    <button
      type="button"
      class={`small act talk${listening ? ' is-listening' : ''}${held ? ' is-held' : ''}`}
      aria-pressed={listening}
      aria-disabled={off}
      onPointerDown={(event) => {
        if (event.button !== 0) return
        // Wherever the finger slides, its letting go reaches this button.
        event.currentTarget.setPointerCapture(event.pointerId)
        down()
      }}
      onPointerUp={up}
      onPointerCancel={up}
      onLostPointerCapture={up}
      onKeyDown={(event) => {
        if (!KEYS.includes(event.key)) return
        event.preventDefault()
        if (!event.repeat) down()
      }}
      onKeyUp={(event) => {
        if (!KEYS.includes(event.key)) return
        event.preventDefault()
        up()
      }}
      onBlur={up}
      onClick={(event) => {
        // A screen reader presses without a finger and without a key: one such press begins, the next ends.
        if (event.detail !== 0) return
        down()
        up()
      }}
      onContextMenu={(event) => event.preventDefault()}
    >
      {listening && !held ? <Stop size={26} /> : <Mouth size={28} />}
      <span>{name}</span>
      <span class="unseen">, {say('talk.how')}</span>
    </button>
  )
}

/** Whether the button is held, and what a press and its end do. */
function usePress({ listening, onBegin, onEnd, off = false, onHeld }: TalkProps) {
  const talk = useRef<Talk>(STILL)
  const [held, setHeld] = useState(false)
  const timer = useRef(0)
  const hold = (now: boolean) => {
    setHeld(now)
    onHeld?.(now)
  }
  const act = ([next, does]: [Talk, Does]) => {
    talk.current = next
    if (does === 'begin') onBegin()
    if (does === 'end') onEnd()
  }
  const down = () => {
    if (off) return
    act(comesDown(listening, performance.now()))
    clearTimeout(timer.current)
    if (talk.current.opened) timer.current = window.setTimeout(() => talk.current.pressed !== null && hold(true), HELD_MS)
  }
  const up = () => {
    clearTimeout(timer.current)
    if (talk.current.pressed === null) return
    act(letsGo(talk.current, performance.now()))
    hold(false)
  }
  useEffect(() => () => clearTimeout(timer.current), [])
  return { held, down, up }
}
