// A button with three ways to speak: held and let go, touched once to begin and once to end, or by the keyboard in either way.

/** Shorter than this is a touch: the microphone stays open until the next one. Longer is holding: letting go ends it. */
export const HELD_MS = 450

export interface Talk {
  /** When the press that is going on began, in milliseconds; null while nothing presses. */
  pressed: number | null
  /** Whether that press opened the microphone: only then letting go may close it. */
  opened: boolean
}

export type Does = '' | 'begin' | 'end'

export const STILL: Talk = { pressed: null, opened: false }

/** A finger, or a key, comes down. `listening`: the microphone is open, or about to be. */
export function comesDown(listening: boolean, now: number): [Talk, Does] {
  return [{ pressed: now, opened: !listening }, listening ? 'end' : 'begin']
}

/** It lets go, slides off, or is taken away by the phone: what was said until then is saved in every case. */
export function letsGo(talk: Talk, now: number): [Talk, Does] {
  if (talk.pressed === null) return [STILL, '']
  return [STILL, talk.opened && now - talk.pressed >= HELD_MS ? 'end' : '']
}
