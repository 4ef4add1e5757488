import { useEffect, useState } from 'preact/hooks'
import { canHear, warm } from '../../speech/hear.ts'
import { ownWords } from '../../store/index.ts'
import { type SpeakingContext, understand } from './understanding.ts'
import { useProposal } from './useProposal.ts'
import { type SavedRecording, useSpokenRecording } from './useSpokenRecording.ts'

/**
 * Speaking on a screen: the recording is saved first, whatever comes of it; then it is heard on this phone, where the
 * speech parts are here. What is understood is a proposal and nothing else until somebody accepts it.
 */
export function useSpoken(context: SpeakingContext) {
  const [held, setHeld] = useState(false)
  const { proposal, heard, hand, propose, clear, change } = useProposal()
  const { phase, setPhase, message, forget, rest, begin, end, mic, failed } = useSpokenRecording(context, clear, offer)
  const able = useWarmSpeech(context)

  async function offer({ id, sha256, cut, context: spokenOf }: SavedRecording): Promise<void> {
    const understood = await understand(id, sha256, cut, spokenOf)
    if (!mic.here.current) return
    if ('proposal' in understood) {
      propose(understood.proposal, understood.heard)
      return setPhase('proposed')
    }
    const { words, wrong, parts = false } = understood
    if (!wrong && !parts) navigator.vibrate?.([80, 60, 80])
    rest(words, wrong, parts)
  }

  return {
    phase, held, message, proposal, heard, hand, able, failed, setHeld, change, forget,
    recording: mic.recording,
    seconds: mic.seconds,
    begin: () => void begin(),
    end: () => void end(),
    putAway: () => {
      clear()
      rest()
    },
    listening: phase === 'opening' || phase === 'listening',
  }
}

export type Spoken = ReturnType<typeof useSpoken>

/** Makes ready what hears on this phone for the words of a screen; whether there is any. */
function useWarmSpeech({ screen, type }: SpeakingContext): boolean {
  const able = canHear().value
  const { place, procedure, quantity, sort } = screen
  useEffect(() => {
    if (able) void warm(screen, type as never, ownWords.value).catch(() => undefined)
  }, [able, sort, place.split('/')[0], procedure, quantity, type?.id])
  return able
}
