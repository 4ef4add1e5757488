// The next number said aloud, and a note heard along, by what lies on this phone: no word leaves it.
import { hand, lastUsed, prefer } from '../frame/hand.ts'

const KEY = 'say the next number'

const voice = (): SpeechSynthesisVoice | undefined =>
  globalThis.speechSynthesis?.getVoices().find((one) => one.localService && /^en\b/i.test(one.lang))

export const canSpeak = (): boolean => voice() !== undefined
export const speaks = (): boolean => lastUsed(KEY) === 'yes'
export const letSpeak = (on: boolean): void => prefer({ last: { ...hand.value.last, [KEY]: on ? 'yes' : '' } })

const ALONG = 'show what this browser hears'

/** Off until somebody asks for it, in Settings, where the browser has a recogniser of its own. */
export const hearsAlong = (): boolean => lastUsed(ALONG) === 'yes'
export const letHearAlong = (on: boolean): void => prefer({ last: { ...hand.value.last, [ALONG]: on ? 'yes' : '' } })

/** Says it, where that is switched on and there is a voice; what was being said before is cut short. */
export function say(words: string): void {
  const by = speaks() ? voice() : undefined
  if (!by || !words) return
  speechSynthesis.cancel()
  const said = new SpeechSynthesisUtterance(words)
  said.voice = by
  said.lang = by.lang
  speechSynthesis.speak(said)
}
