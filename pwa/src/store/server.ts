// What a screen may want of the server. The screens get an object of this shape; only main knows who fulfils it.
import type { ReadonlySignal } from '@preact/signals'

export interface SendingStatus {
  /** One line for the title block: '7 on this phone, server last reached 10:42'. */
  words: string
  /** '' when all is well, else why not, with the next step. */
  why: string
  running: boolean
  /** The server does not know this phone's token: with a fresh code from the office it is added again. */
  shutDoor: boolean
  /** RFC 3339 of the last answer that was ours. */
  reached: string | null
  /** 'picture 3 of 9, 40 %', '' when nothing moves. */
  progress: string
  /** '' or loud plain words: the server's log does not only add, a signature does not hold. */
  alarm: string
  /** '' or 'This phone is 3 min fast.' */
  clock: string
}

export interface UpdateState {
  ready: boolean
  allowed: boolean
  words: string
}

export interface Server {
  /** Joins the workshop; rejects with a sentence to show. */
  join(code: string, phoneName: string): Promise<void>
  /** Sends and fetches at once. */
  sendNow(): Promise<void>
  /** The original of a picture from the server, null without signal. */
  fetchOriginal(sha256: string): Promise<Blob | null>
  /** From the shelf back into the outbox, and sends. */
  tryAgain(shelfKey: string): Promise<void>
  status: ReadonlySignal<SendingStatus>
  update: ReadonlySignal<UpdateState>
  /** Does nothing while a draft or a recording is open. */
  updateNow(): void
}
