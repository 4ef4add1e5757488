// The office's only way to the server. Every answer is checked to be ours before a word of it is believed.

import { unattended } from './attended.ts'
import { say } from './say.ts'

const OFFICE = { 'X-Witnessmark': 'office' }

/** Something the server refused or could not be asked; `message` is a sentence for the reader. */
export class ApiError extends Error {
  constructor(
    readonly status: number,
    readonly code: string,
    message: string,
    readonly where = '',
  ) {
    super(message)
  }
}

type Listener = () => void
let onSignedOut: Listener = () => undefined

/** Called whenever the server says that nobody is signed in here any more. */
export function whenSignedOut(listener: Listener): void {
  onSignedOut = listener
}

/** The query part for the values that are set; empty ones are left out. */
export function query(values: Record<string, string | number | null | undefined>): string {
  const set = Object.entries(values).filter(([, v]) => v !== null && v !== undefined && v !== '')
  const text = new URLSearchParams(set.map(([k, v]) => [k, String(v)])).toString()
  return text && `?${text}`
}

/** GET; throws ApiError. */
export function get<T>(path: string, signal?: AbortSignal): Promise<T> {
  return request<T>(path, { method: 'GET', headers: unattended(), signal: signal ?? null })
}

/** POST with a JSON body; throws ApiError. */
export function post<T>(path: string, body: unknown = {}): Promise<T> {
  return request<T>(path, {
    method: 'POST',
    headers: { ...OFFICE, 'Content-Type': 'application/json' },
    body: JSON.stringify(body),
  })
}

/** POST with the text of a file as it is; throws ApiError. */
export function postFile<T>(path: string, text: string): Promise<T> {
  return request<T>(path, { method: 'POST', headers: { ...OFFICE, 'Content-Type': 'application/json' }, body: text })
}

/** DELETE; throws ApiError. */
export function remove(path: string): Promise<null> {
  return request<null>(path, { method: 'DELETE', headers: OFFICE })
}

async function request<T>(path: string, init: RequestInit): Promise<T> {
  let answer: Response
  try {
    answer = await fetch(path, { ...init, credentials: 'same-origin', cache: 'no-store' })
  } catch (reason) {
    if (reason instanceof DOMException && reason.name === 'AbortError') throw reason
    throw new ApiError(0, 'no_answer', say('frame.no_answer'))
  }
  return read<T>(answer, path)
}

async function read<T>(answer: Response, path: string): Promise<T> {
  // A sign-in page of the building's own network also answers 200: only our header tells them apart.
  if (!answer.headers.has('Witnessmark-Server')) {
    throw new ApiError(0, 'not_ours', say('frame.other_server'))
  }
  const body = answer.status === 204 ? null : await answer.json().catch(() => null)
  if (answer.ok) return body as T
  if (answer.status === 401 && !path.endsWith('/sign-in')) onSignedOut()
  const wait = Number(answer.headers.get('Retry-After'))
  const message = body?.message ?? say('frame.no_reason', { status: String(answer.status) })
  throw new ApiError(answer.status, body?.code ?? 'unsaid', message, wait ? String(wait) : (body?.where ?? ''))
}

/** Asks where an upload stands, making it when it is new. Returns its address and how many bytes are there. */
export async function openUpload(file: {
  sha256: string
  length: number
  type: string
}): Promise<{ address: string; offset: number }> {
  const metadata = `sha256 ${btoa(file.sha256)},type ${btoa(file.type)}`
  const answer = await plain('/api/media/uploads', {
    method: 'POST',
    headers: { ...OFFICE, 'Tus-Resumable': '1.0.0', 'Upload-Length': String(file.length), 'Upload-Metadata': metadata },
  })
  const address = answer.headers.get('Location') ?? `/api/media/uploads/${file.sha256}.${file.length}`
  return { address, offset: Number(answer.headers.get('Upload-Offset') ?? '0') }
}

/** How many bytes of an upload the server holds. */
export async function uploadOffset(address: string): Promise<number> {
  const answer = await plain(address, { method: 'HEAD', headers: { ...OFFICE, 'Tus-Resumable': '1.0.0' } })
  return Number(answer.headers.get('Upload-Offset') ?? '0')
}

async function plain(path: string, init: RequestInit): Promise<Response> {
  const answer = await fetch(path, { ...init, credentials: 'same-origin', cache: 'no-store' }).catch(() => {
    throw new ApiError(0, 'no_answer', say('frame.upload_no_answer'))
  })
  if (!answer.ok) await read(answer, path)
  return answer
}

/** Sends one piece of an upload and returns the new offset; `moved` hears the bytes as they leave. */
export function sendPiece(
  address: string,
  offset: number,
  piece: Blob,
  moved: (sent: number) => void,
): Promise<number> {
  // fetch cannot say how much of a body has left; XMLHttpRequest can.
  return new Promise((resolve, reject) => {
    const sending = new XMLHttpRequest()
    sending.open('PATCH', address)
    sending.setRequestHeader('Tus-Resumable', '1.0.0')
    sending.setRequestHeader('Upload-Offset', String(offset))
    sending.setRequestHeader('Content-Type', 'application/offset+octet-stream')
    sending.setRequestHeader('X-Witnessmark', 'office')
    sending.upload.onprogress = (event) => moved(event.loaded)
    sending.onerror = () => reject(new ApiError(0, 'no_answer', say('frame.upload_interrupted')))
    sending.onload = () => {
      if (sending.status < 300) return resolve(Number(sending.getResponseHeader('Upload-Offset')))
      let body: { code?: string; message?: string } = {}
      try {
        body = JSON.parse(sending.responseText)
      } catch {
        // An answer without JSON keeps the sentence below.
      }
      reject(new ApiError(sending.status, body.code ?? 'unsaid', body.message ?? say('frame.upload_refused')))
    }
    sending.send(piece)
  })
}
