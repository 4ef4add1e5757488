// The only place that fetches. An answer counts only if it is ours: our protocol, our server, our epoch, and JSON.
import { phone } from '../store/index.ts'
import { say } from '../store/say.ts'

export const PROTOCOL = 1

/** Our server gave no answer. Nothing may be concluded from it, and nothing is changed. */
export class NoAnswer extends Error {
  readonly kind: 'no_signal' | 'not_ours' | 'late'
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

/** The server was restored meanwhile: the run starts again with its state. */
export class Restored extends Error {}

/** Something else than our server answered. */
export const notOurs = () => new NoAnswer('not_ours', say('sync.not_ours'))
const noSignal = () => new NoAnswer('no_signal', say('sync.no_signal'))
const tooLate = () => new NoAnswer('late', say('sync.late'))

export interface RequestOptions {
  method?: string
  json?: unknown
  body?: BodyInit
  headers?: Record<string, string>
  timeoutMs?: number
  /** Before joining there is no server to compare with, and no token. */
  stranger?: boolean
  /** For the request that learns about a new epoch. */
  anyEpoch?: boolean
}

const USUAL_TIMEOUT_MS = 20_000

/** Sends a request and returns the answer if its headers say that it is ours, whatever its status. */
export async function reach(path: string, options: RequestOptions = {}): Promise<Response> {
  const { method = 'GET', json, body, headers = {}, timeoutMs = USUAL_TIMEOUT_MS, stranger = false, anyEpoch = false } = options
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
    throw late ? tooLate() : noSignal()
  }
  const header = (name: string) => answer.headers.get(`Witnessmark-${name}`)
  if (header('Protocol') !== String(PROTOCOL) || !header('Server')) throw notOurs()
  const here = phone.peek()
  if (!stranger && header('Server') !== here?.server)
    throw new NoAnswer('not_ours', say('sync.other_workshop'))
  if (!stranger && !anyEpoch && header('Epoch') !== here?.epoch) throw new Restored(say('sync.restored'))
  return answer
}

/** Sends a request and returns the JSON of a good answer. Throws NoAnswer, Refused or Restored; never returns half an answer. */
export async function requestJson<T>(path: string, options: RequestOptions = {}): Promise<T> {
  const answer = await reach(path, options)
  const payload = await readJson(answer)
  if (answer.ok) return payload as T
  throw refusal(answer, payload)
}

/** Throws Refused for an answer of ours that is not good. */
export async function refuseBad(answer: Response): Promise<void> {
  if (!answer.ok) throw refusal(answer, await readJson(answer).catch(() => ({})))
}

function refusal(answer: Response, payload: unknown): Refused {
  const { code = 'error', message = say('sync.answered', { status: String(answer.status) }) } = (payload ?? {}) as { code?: string; message?: string }
  const wait = Number(answer.headers.get('Retry-After'))
  return new Refused(answer.status, code, message, Number.isFinite(wait) && wait > 0 ? wait : null)
}

async function readJson(answer: Response): Promise<unknown> {
  if (!answer.headers.get('Content-Type')?.startsWith('application/json')) throw notOurs()
  try {
    const payload: unknown = await answer.json()
    if (payload && typeof payload === 'object') return payload
  } catch (fault) {
    if (fault instanceof DOMException && fault.name === 'TimeoutError') throw tooLate()
  }
  throw notOurs() // cut short, or empty
}
