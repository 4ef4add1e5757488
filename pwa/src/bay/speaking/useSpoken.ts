import { useEffect, useRef, useState } from 'preact/hooks'
import { type Recording, type SpokenTo, type Where, record } from '../../capture/index.ts'
import { canHear, decodePcm, hear, warm } from '../../speech/hear.ts'
import { type EngineType, originalOf, ownWords } from '../../store/index.ts'
import type { Spoken as SpokenIn } from '../../trade/record/kinds.ts'
import type { Proposal, Screen } from '../../trade/spoken/types.ts'
import { useSaving } from '../frame/useSaving.ts'
import { sentence } from '../frame/words.ts'

export type Phase = 'still' | 'opening' | 'listening' | 'working' | 'proposed'

/** Longer is no figure any more: it ends by itself, and what was said until then is kept. */
const MOST_SECONDS = 20

export const KEPT = 'This recording is kept. Its text follows when this phone has reached the server.'

/** Where it did not even come to words that could be doubted. */
const HEARD_NOTHING: Record<string, string> = {
  'nothing said': 'Nobody was heard. Say it again, nearer to the phone.',
  'too long': 'That was too long for one figure. Say it again, shorter.',
}

export interface About {
  procedure: string
  reading: string
}

export interface SpokenAsked {
  at: Where
  type: EngineType | null
  screen: Screen
  about?: About
  /** The screen as the recording names it, for the server to hear it by; that of `screen` unless it is said. */
  to?: SpokenTo['screen']
  /** Why what was understood is no proposal here, in a sentence; '' where it is one. */
  why: (text: string, proposal: Proposal | null) => string
}

/**
 * Speaking on a screen: the recording is saved first, whatever comes of it; then it is heard on this phone, where the
 * parts for it are here. What is understood is a proposal and nothing else until somebody accepts it.
 */
export function useSpoken(asked: SpokenAsked) {
  const [phase, setPhase] = useState<Phase>('still')
  const [recording, setRecording] = useState<Recording | null>(null)
  const [held, setHeld] = useState(false)
  const [told, setTold] = useState({ words: '', wrong: false, parts: false })
  const [proposal, setProposal] = useState<Proposal | null>(null)
  const [heard, setHeard] = useState<SpokenIn | null>(null)
  const [hand, setHand] = useState<ReadonlySet<string>>(new Set())
  const saving = useSaving()
  const running = useRef<Recording | null>(null)
  // Let go before the microphone was open: end it as soon as it is.
  const early = useRef(false)
  const now = useRef({ asked, phase })
  now.current = { asked, phase }
  const here = useRef(true)
  const frozen = useRef(asked)
  const say = (words: string, wrong = false, parts = false) => setTold({ words, wrong, parts })

  const putAway = () => {
    setProposal(null)
    setHeard(null)
    setHand(new Set())
    setPhase('still')
    say('')
  }

  const begin = async () => {
    if (now.current.phase !== 'still' && now.current.phase !== 'proposed') return
    putAway()
    saving.forget()
    // What is on the screen now is what is spoken of, whatever is lit by the time it is understood.
    frozen.current = now.current.asked
    early.current = false
    setPhase('opening')
    const { at, screen, about, to } = frozen.current
    try {
      const open = await record(at, '', spokenTo(to ?? (screen.sort === 'any' ? 'none' : screen.sort), about))
      if (early.current || !here.current) {
        await open.cancel()
        if (here.current) say('The microphone had not opened yet. Hold until it listens.')
        return setPhase('still')
      }
      running.current = open
      setRecording(open)
      setPhase('listening')
      navigator.vibrate?.(15)
    } catch (fault) {
      setPhase('still')
      say(sentence(fault), true)
    }
  }

  const end = async () => {
    const open = running.current
    if (!open) {
      early.current = now.current.phase === 'opening'
      return
    }
    running.current = null
    const cut = open.cut.value
    setPhase('working')
    const saved = await saving.keep(() => open.stop(), '')
    setRecording(null)
    const sha256 = saved?.media[0]
    if (!saved || !sha256) return setPhase('still')
    // Of a sentence that was cut off the last digits may be missing: nothing is proposed from it.
    if (cut) {
      setPhase('still')
      return say(`The recording was cut off. ${cut} What was said is kept. Say it again.`, true)
    }
    if (!canHear().value) {
      setPhase('still')
      return say(KEPT, false, true)
    }
    try {
      const { screen, type, why } = frozen.current
      const { text, proposal: found, by, why: nothing } = await understood(sha256, screen, type)
      const fault = HEARD_NOTHING[nothing] ?? why(text, found)
      if (!here.current) return
      if (fault) {
        navigator.vibrate?.([80, 60, 80])
        setPhase('still')
        return say(fault, false)
      }
      setHeard({ spoken: saved.id, heard: text, heard_by: by })
      setProposal(found)
      setPhase('proposed')
    } catch (fault) {
      setPhase('still')
      say(`What was said is kept, but was not understood on this phone: ${sentence(fault)}`, true)
    }
  }

  const seconds = recording?.seconds.value ?? 0
  const cut = recording?.cut.value ?? ''
  useEffect(() => {
    if (recording && (cut || seconds >= MOST_SECONDS)) void end()
  }, [cut, seconds])
  useEffect(() => {
    here.current = true
    // Going away ends the recording and keeps it.
    return () => {
      here.current = false
      void running.current?.stop().catch(() => undefined)
    }
  }, [])
  const able = canHear().value
  const { place, procedure, quantity, sort } = asked.screen
  useEffect(() => {
    if (able) void warm(asked.screen, asked.type as never, ownWords.value).catch(() => undefined)
  }, [able, sort, place.split('/')[0], procedure, quantity, asked.type?.id])

  return {
    phase, recording, seconds, held, told, proposal, heard, hand, able, setHeld, begin: () => void begin(), end: () => void end(), putAway,
    failed: saving.told,
    listening: phase === 'opening' || phase === 'listening',
    /** A part that a person put right: it counts from now on, and is shown as done by hand. */
    change: (part: string, change: (before: Proposal) => Proposal) => {
      setProposal((before) => before && change(before))
      setHand((before) => new Set([...before, part]))
    },
    forget: () => say(''),
  }
}

export type Spoken = ReturnType<typeof useSpoken>

const spokenTo = (screen: SpokenTo['screen'], about: About = { procedure: '', reading: '' }): SpokenTo => ({ mode: 'measure', screen, ...about })

async function understood(sha256: string, screen: Screen, type: EngineType | null) {
  const blob = await originalOf(sha256)
  if (!blob) throw new Error('The recording could not be read back. It is under "On this phone".')
  const { pcm, rate } = await decodePcm(await blob.arrayBuffer())
  return hear(pcm, rate, screen, type as never, ownWords.value)
}
