// From a saved recording to a proposal, or to the sentence why there is none.
import { type Where, record, type SpokenTo } from '../../capture/index.ts'
import { canHear, decodePcm, hear } from '../../speech/hear.ts'
import { type EngineType, originalOf, ownWords } from '../../store/index.ts'
import type { Spoken } from '../../trade/record/kinds.ts'
import type { Proposal, Screen } from '../../trade/spoken/types.ts'
import { say } from '../frame/say.ts'
import { sentence } from '../frame/words.ts'

/** What is on the screen while somebody speaks. */
export interface SpeakingContext {
  at: Where
  type: EngineType | null
  screen: Screen
  about?: { procedure: string; reading: string }
  /** The screen as the recording names it, for the server to hear it by; that of `screen` where it is not given. */
  to?: SpokenTo['screen']
  /** Why what was understood is no proposal here, in a sentence; '' where it is one. */
  why: (text: string, proposal: Proposal | null) => string
}

/** A proposal with what was heard, or words for the screen. `parts`: the speech parts are missing. */
export type Understood =
  | { proposal: Proposal; heard: Spoken }
  | { words: string; wrong: boolean; parts?: boolean }

/** Opens the microphone for what is on the screen. */
export function recordFor({ at, screen, about = { procedure: '', reading: '' }, to }: SpeakingContext) {
  return record(at, '', { mode: 'measure', screen: to ?? (screen.sort === 'any' ? 'none' : screen.sort), ...about })
}

/** What was said in the recording `id`. `cut`: why it ended early, '' where it did not. */
export async function understand(id: string, sha256: string, cut: string, { screen, type, why }: SpeakingContext): Promise<Understood> {
  // Of a sentence that was cut off the last digits may be missing: nothing is proposed from it.
  if (cut) return { words: say('speaking.cut_off', { why: cut }), wrong: true }
  if (!canHear().value) return { words: say('speaking.saved_text_follows'), wrong: false, parts: true }
  try {
    const { text, proposal, by, why: nothing } = await hearSaved(sha256, screen, type)
    const fault = noWords(nothing) || why(text, proposal)
    if (fault || !proposal) return { words: fault, wrong: false }
    return { proposal, heard: { spoken: id, heard: text, heard_by: by } }
  } catch (fault) {
    return { words: say('speaking.not_understood_here', { why: sentence(fault) }), wrong: true }
  }
}

/** Where it did not even come to words that could be doubted. */
function noWords(why: string): string {
  if (why === 'silence') return say('speaking.nobody_heard')
  return why === 'too_long' ? say('speaking.too_long') : ''
}

async function hearSaved(sha256: string, screen: Screen, type: EngineType | null) {
  const blob = await originalOf(sha256)
  if (!blob) throw new Error(say('speaking.not_read_back'))
  const { pcm, rate } = await decodePcm(await blob.arrayBuffer())
  return hear(pcm, rate, screen, type as never, ownWords.value)
}
