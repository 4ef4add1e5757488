// The only place that fetches. An answer counts only if it is ours: our protocol, our server, our epoch, and JSON.
import { phone } from '../store/index.ts'

export const PROTOCOL = 1

/** No answer of our server was had. Nothing may be concluded from it, and nothing is changed. */
export class NoAnswer extends Error {
  readonly kind: 'no signal' | 'not ours' | 'late'
  constructor(kind: NoAnswer['kind'], message: string) {
    super(message)
    this.kind = kind
  }
}

/** Our server answered, and did not do it. `retryAfter` in seconds, null when it named none. */
export class Refused extends Error {
  readonly status: number
  readonly code: string
  readonly retryAfter: number | null
  constructor(status: number, code: string, message: string, retryAfter: number | null) {
    super(message)
    this.status = status
    this.code = code
    this.retryAfter = retryAfter
  }
}

/** The server was restored meanwhile: the run begins anew with its state. */
export class Restored extends Error {}

export const NOT_OURS = 'This network is not the way to our server: something else answered. Sign in to the network, or use another.'
const NO_SIGNAL = 'No signal to the server. Everything is safe on this phone and goes by itself when the server can be reached.'
const LATE = 'The server did not answer in time. Everything is safe on this phone; it is tried again.'

export interface Ask {
  method?: string
  json?: unknown
  body?: BodyInit
  headers?: Record<string, string>
  timeoutMs?: number
  /** Before joining there is no server to compare with, and no token. */
  stranger?: boolean
  /** For the one question that finds out about a new epoch. */
  anyEpoch?: boolean
}

const USUAL_TIMEOUT_MS = 20_000

/** Sends a request and returns the answer if its headers say that it is ours, whatever its status. */
export async function reach(path: string, ask: Ask = {}): Promise<Response> {
  const { method = 'GET', json, body, headers = {}, timeoutMs = USUAL_TIMEOUT_MS, stranger = false, anyEpoch = false } = ask
  const token = stranger ? '' : (phone.peek()?.token ?? '')
  let answer: Response
  try {
    answer = await fetch(path, {
      method,
      headers: {
        ...(json === undefined ? {} : { 'Content-Type': 'application/json' }),
        ...(token ? { Authorization: `Bearer ${token}` } : {}),
        ...headers,
      },
      body: json === undefined ? body : JSON.stringify(json),
      cache: 'no-store',
      credentials: 'omit',
      redirect: 'error',
      signal: AbortSignal.timeout(timeoutMs),
    })
  } catch (fault) {
    const late = fault instanceof DOMException && fault.name === 'TimeoutError'
    throw late ? new NoAnswer('late', LATE) : new NoAnswer('no signal', NO_SIGNAL)
  }
  const said = (name: string) => answer.headers.get(`Witnessmark-${name}`)
  if (said('Protocol') !== String(PROTOCOL) || !said('Server')) throw new NoAnswer('not ours', NOT_OURS)
  const here = phone.peek()
  if (!stranger && said('Server') !== here?.server)
    throw new NoAnswer('not ours', 'Another workshop’s server answered under this address. Nothing was sent to it.')
  if (!stranger && !anyEpoch && said('Epoch') !== here?.epoch) throw new Restored('The server was restored from a backup.')
  return answer
}

/** Asks and returns the JSON of a good answer. Throws NoAnswer, Refused or Restored; never returns half an answer. */
export async function askFor<T>(path: string, ask: Ask = {}): Promise<T> {
  const answer = await reach(path, ask)
  const told = await readJson(answer)
  if (answer.ok) return told as T
  throw refusal(answer, told)
}

/** Throws Refused for an answer of ours that is not good. */
export async function refuseBad(answer: Response): Promise<void> {
  if (!answer.ok) throw refusal(answer, await readJson(answer).catch(() => ({})))
}

function refusal(answer: Response, told: unknown): Refused {
  const { code = 'error', message = `The server answered ${answer.status}.` } = (told ?? {}) as { code?: string; message?: string }
  const wait = Number(answer.headers.get('Retry-After'))
  return new Refused(answer.status, code, message, Number.isFinite(wait) && wait > 0 ? wait : null)
}

async function readJson(answer: Response): Promise<unknown> {
  if (!answer.headers.get('Content-Type')?.startsWith('application/json')) throw new NoAnswer('not ours', NOT_OURS)
  try {
    const told: unknown = await answer.json()
    if (told && typeof told === 'object') return told
  } catch (fault) {
    if (fault instanceof DOMException && fault.name === 'TimeoutError') throw new NoAnswer('late', LATE)
  }
  throw new NoAnswer('not ours', NOT_OURS) // cut short, or empty
}
