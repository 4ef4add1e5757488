// The next number spoken aloud, and live text while a note is recorded, by what is on this phone: no word leaves it.
import { language } from '../../trade/ground/sentences.ts'
import { hand, lastUsed, prefer } from '../frame/hand.ts'

const KEY = 'say the next number'

const voice = (): SpeechSynthesisVoice | undefined =>
  globalThis.speechSynthesis?.getVoices().find((voice) => voice.localService && voice.lang.startsWith(language))

export const canSpeak = (): boolean => voice() !== undefined
export const speaks = (): boolean => lastUsed(KEY) === 'yes'
export const letSpeak = (on: boolean): void => prefer({ last: { ...hand.value.last, [KEY]: on ? 'yes' : '' } })

const ALONG = 'show what this browser hears'

/** Off until somebody switches it on, in Settings, where the browser has a recogniser of its own. */
export const hearsAlong = (): boolean => lastUsed(ALONG) === 'yes'
export const letHearAlong = (on: boolean): void => prefer({ last: { ...hand.value.last, [ALONG]: on ? 'yes' : '' } })

/** Speaks it, where that is switched on and there is a voice; what was being spoken before is cut short. */
export function speakAloud(words: string): void {
  const by = speaks() ? voice() : undefined
  if (!by || !words) return
  speechSynthesis.cancel()
  const utterance = new SpeechSynthesisUtterance(words)
  utterance.voice = by
  utterance.lang = by.lang
  speechSynthesis.speak(utterance)
}
