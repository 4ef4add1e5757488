// A file on its way from the desk to the server: hashed first, then sent in pieces that can be taken up again.

import { ApiError, openUpload, sendPiece, uploadOffset } from '../../frame/api.ts'
import { say } from '../../frame/say.ts'

export const PIECE = 8 * 1024 * 1024
const TRIES = 5
/** WebCrypto hashes a file in one piece, so it has to fit the browser's memory. */
export const LARGEST = 1_500_000_000

export interface Sent {
  sha256: string
  length: number
  type: string
}

/** SHA-256 of the bytes as they lie on the disk, in hex. */
export async function fingerprint(file: Blob): Promise<string> {
  if (!crypto.subtle) {
    throw new ApiError(
      0,
      'no_hash',
      say('desk.https_needed'),
    )
  }
  const digest = await crypto.subtle.digest('SHA-256', await file.arrayBuffer())
  return [...new Uint8Array(digest)].map((byte) => byte.toString(16).padStart(2, '0')).join('')
}

/** The type of a file; browsers leave it empty for endings they do not know. */
export function typeOf(file: { name: string; type: string }): string {
  return file.type || 'application/octet-stream'
}

/**
 * Sends a file whole; `onProgress` is given the bytes that have arrived. After a break it goes on from where the server stands;
 * throws ApiError when it stays broken or the file is refused.
 */
export async function upload(file: File, onProgress: (bytes: number) => void): Promise<Sent> {
  if (file.size === 0)
    throw new ApiError(0, 'empty', say('desk.file_empty', { name: file.name }))
  if (file.size > LARGEST)
    throw new ApiError(0, 'large', say('desk.file_too_large', { name: file.name }))
  const sent = { sha256: await fingerprint(file), length: file.size, type: typeOf(file) }
  const { address, offset } = await openUpload(sent)
  let at = offset
  let tries = 0
  onProgress(at)
  while (at < file.size) {
    try {
      const from = at
      at = await sendPiece(address, from, file.slice(from, from + PIECE), (bytes) => onProgress(from + bytes))
      onProgress(at)
      tries = 0
    } catch (reason) {
      const mayPass =
        reason instanceof ApiError && (reason.status === 0 || reason.status === 409 || reason.status >= 500)
      if (!mayPass || (tries += 1) >= TRIES) throw reason
      await new Promise((resume) => setTimeout(resume, 500 * 2 ** tries))
      at = await uploadOffset(address).catch(() => at)
    }
  }
  return sent
}
