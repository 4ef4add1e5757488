// A picture from the phone's camera or its gallery: its bytes are copied first and never changed.
import { NotSaved, type NewFile } from '../store/index.ts'
import { copy } from './darkroom.ts'
import { dimensions } from './dimensions.ts'
import { capture, type Saved } from './entry.ts'
import { look, type Hints } from './preview.ts'
import { dropPending, locationOf, type Where } from './where.ts'
import { say } from '../store/say.ts'

export type SavedPhoto = Saved & { hints: Promise<Hints> }

/** Saves the file as it came from the browser. The hints follow when the picture is already safe. */
export async function takePhoto(at: Where, file: File, method: 'camera' | 'gallery', caption = ''): Promise<SavedPhoto> {
  // The file itself dies with its source; only a copy of its bytes is ours.
  const bytes = await copyOf(file)
  const type = file.type.startsWith('image/') ? file.type : 'application/octet-stream'
  const file_time = file.lastModified ? new Date(file.lastModified).toISOString() : null
  return keepPhoto(at, { bytes, type, role: 'original', name: nameOf(file) }, { method, caption, file_time, sharpness: null, exposure: null })
}

export interface PhotoFacts {
  method: 'camera' | 'gallery' | 'live'
  caption: string
  file_time: string | null
  sharpness: string | null
  exposure: string | null
}

export async function keepPhoto(at: Where, file: NewFile, facts: PhotoFacts): Promise<SavedPhoto> {
  const size = dimensions(file.bytes)
  const body = { ...facts, width: size?.width ?? null, height: size?.height ?? null }
  const saved = await capture({ kind: 'photo_taken', job: at.job, location: locationOf(at), body, files: [file] })
  // Not waited for: the picture is safe, and every later question to the store is answered after this.
  void dropPending().catch(() => undefined)
  return { ...saved, hints: look(saved.media[0] as string, file.bytes) }
}

/** The bytes of a file, at once; NotSaved says what went wrong. */
export async function copyOf(file: File): Promise<ArrayBuffer> {
  let bytes: ArrayBuffer
  try {
    bytes = await copy(file)
  } catch (fault) {
    throw new NotSaved(say('capture.file_gone', { file: nameOf(file) }), [], fault)
  }
  if (bytes.byteLength === 0) throw new NotSaved(say('capture.file_empty', { file: nameOf(file) }), [])
  return bytes
}

export const nameOf = (file: File) => file.name.slice(0, 200) || 'unnamed'
