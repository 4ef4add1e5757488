import type { Location, NewEntry } from '../../frame/shapes.ts'
import type { Sent } from './upload.ts'

export function isPicture(file: { type: string }): boolean {
  return file.type.startsWith('image/')
}

/** Width and height in pixels as the browser shows the picture; null when it cannot show it. */
export async function pictureSize(file: Blob): Promise<{ width: number; height: number } | null> {
  try {
    const shown = await createImageBitmap(file)
    const size = { width: shown.width, height: shown.height }
    shown.close()
    return size
  } catch {
    return null
  }
}

/** The record a file becomes: a picture is a photograph added at the desk, anything else a document. */
export function entryFor(
  file: File,
  title: string,
  sent: Sent,
  location: Location | null,
  size: { width: number; height: number } | null,
): Omit<NewEntry, 'job'> {
  const words = title.trim()
  const medium = { ...sent, name: file.name.slice(0, 255) }
  if (!isPicture(file)) {
    return {
      kind: 'document_added',
      location,
      body: { title: words || file.name, remark: '' },
      media: [{ ...medium, role: 'document' }],
    }
  }
  return {
    kind: 'photo_taken',
    location,
    body: {
      method: 'desk',
      width: size?.width ?? null,
      height: size?.height ?? null,
      sharpness: null,
      exposure: null,
      caption: words,
      file_time: file.lastModified ? new Date(file.lastModified).toISOString() : null,
    },
    media: [{ ...medium, role: 'original' }],
  }
}
