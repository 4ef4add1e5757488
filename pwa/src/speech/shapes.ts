// Shapes of the speech parts: the list of files, and the messages between page and worker.
import type { EngineType } from '../trade/engine/parts.ts'
import type { OwnWord, Proposal, Screen } from '../trade/spoken/types.ts'

/** Raised when page and worker no longer understand each other; an old worker that speaks another number is not used. */
export const SPEAKS = 1

/** One file of the speech parts, named from their folder. */
export interface Part {
  name: string
  /** Bytes, as it lies on the phone. */
  size: number
  sha256: string
  type: string
}

/** What one build of the app needs to hear. `hash` is the SHA-256 over its files' names and hashes. */
export interface PartList {
  speaks: number
  hash: string
  files: Part[]
}

/** What somebody said, as far as this phone understood it. */
export interface Heard {
  /** '' is "not understood". */
  text: string
  proposal: Proposal | null
  /** 0 to 100: how well the sound fitted the words. */
  confidence: number
  /** Which recogniser, model and vocabulary. */
  by: string
  /** From the question to the answer, milliseconds. */
  ms: number
  /** Why nothing was understood, '' where it was. */
  why: '' | 'silence' | 'too_long' | 'unsure' | 'senseless'
}

/** What the words are about: the screen, the engine, the workshop's own words. */
export interface Subject {
  screen: Screen
  engine_type: EngineType | null
  own: OwnWord[]
}

export type WorkerRequest = { id: number; subject: Subject } | { id: number; subject: Subject; pcm: Float32Array<ArrayBuffer>; rate: number }
export type WorkerReply = { id: number; ready: true } | { id: number; heard: Heard } | { id: number; fault: string }
