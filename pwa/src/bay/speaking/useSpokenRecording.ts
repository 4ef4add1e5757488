import { useRef, useState } from 'preact/hooks'
import { say } from '../frame/say.ts'
import { useSaving } from '../frame/useSaving.ts'
import { sentence } from '../frame/words.ts'
import { type SpeakingContext, recordFor } from './understanding.ts'
import { useMicrophone } from './useMicrophone.ts'

export type Phase = 'still' | 'opening' | 'listening' | 'working' | 'proposed'

const NO_MESSAGE = { words: '', wrong: false, parts: false }

export interface SavedRecording {
  id: string
  sha256: string
  /** Why it ended early; '' where it did not. */
  cut: string
  /** What was on the screen when it began. */
  context: SpeakingContext
}

/** The recording of what is spoken on a screen, from the first touch until it is saved; `onSaved` makes of it what it can. */
export function useSpokenRecording(context: SpeakingContext, onBegin: () => void, onSaved: (saved: SavedRecording) => Promise<void>) {
  const [phase, setPhase] = useState<Phase>('still')
  const [message, setMessage] = useState(NO_MESSAGE)
  const saving = useSaving()
  // The button was released before the microphone was open: end it as soon as it is.
  const early = useRef(false)
  const now = useRef({ context, phase })
  now.current = { context, phase }
  const frozen = useRef(context)
  const mic = useMicrophone(() => void end())

  const rest = (words = '', wrong = false, parts = false) => {
    setPhase('still')
    setMessage({ words, wrong, parts })
  }

  const begin = async () => {
    if (now.current.phase !== 'still' && now.current.phase !== 'proposed') return
    onBegin()
    setMessage(NO_MESSAGE)
    saving.forget()
    // What is on the screen now is what is spoken of, whatever is lit by the time it is understood.
    frozen.current = now.current.context
    early.current = false
    setPhase('opening')
    try {
      const open = await recordFor(frozen.current)
      if (early.current || !mic.here.current) {
        await open.cancel()
        if (mic.here.current) rest(say('speaking.not_open_yet'))
        return
      }
      mic.start(open)
      setPhase('listening')
      navigator.vibrate?.(15)
    } catch (fault) {
      rest(sentence(fault), true)
    }
  }

  const end = async () => {
    const open = mic.take()
    if (!open) {
      early.current = now.current.phase === 'opening'
      return
    }
    const cut = open.cut.value
    setPhase('working')
    const saved = await saving.attempt(() => open.stop(), '')
    mic.clear()
    const sha256 = saved?.media[0]
    if (!saved || !sha256) return setPhase('still')
    await onSaved({ id: saved.id, sha256, cut, context: frozen.current })
  }

  return { phase, setPhase, message, forget: () => setMessage(NO_MESSAGE), rest, begin, end, mic, failed: saving.message }
}
