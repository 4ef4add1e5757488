// A zip without compression (PKWARE APPNOTE 6.3, method 0): enough for pictures, small enough to read. Below 4 GB.
import { say } from './say.ts'

export interface ZipPart {
  name: string
  bytes: Uint8Array
}

const TABLE = Uint32Array.from({ length: 256 }, (_, n) => {
  let c = n
  for (let k = 0; k < 8; k++) c = c & 1 ? (c >>> 1) ^ 0xedb88320 : c >>> 1
  return c >>> 0
})

export function crc32(bytes: Uint8Array): number {
  let c = 0xffffffff
  for (const byte of bytes) c = (TABLE[(c ^ byte) & 0xff] as number) ^ (c >>> 8)
  return (c ^ 0xffffffff) >>> 0
}

/** The zip of `parts`, names in UTF-8, all dated 1 January 1980: the dates that count stand in the records. */
export function zip(parts: ZipPart[]): Blob {
  const pieces: Uint8Array[] = []
  const directory: Uint8Array[] = []
  let at = 0
  for (const { name, bytes } of parts) {
    const title = new TextEncoder().encode(name)
    const common = new DataView(new ArrayBuffer(26))
    const fields = [20, 0x0800, 0, 0, 0x21] // version 2.0, names are UTF-8, stored, time, date
    fields.forEach((value, i) => common.setUint16(i * 2, value, true))
    common.setUint32(10, crc32(bytes), true)
    common.setUint32(14, bytes.length, true)
    common.setUint32(18, bytes.length, true)
    common.setUint16(22, title.length, true)
    const shared = new Uint8Array(common.buffer)
    pieces.push(word(0x04034b50), shared, title, bytes)
    const tail = new DataView(new ArrayBuffer(14))
    tail.setUint32(10, at, true)
    directory.push(word(0x02014b50), new Uint8Array([20, 0]), shared, new Uint8Array(tail.buffer), title)
    at += 30 + title.length + bytes.length
    if (at > 0xffff0000) throw new Error(say('export.too_large'))
  }
  const length = directory.reduce((sum, piece) => sum + piece.length, 0)
  const end = new DataView(new ArrayBuffer(22))
  end.setUint32(0, 0x06054b50, true)
  end.setUint16(8, parts.length, true)
  end.setUint16(10, parts.length, true)
  end.setUint32(12, length, true)
  end.setUint32(16, at, true)
  return new Blob([...pieces, ...directory, new Uint8Array(end.buffer)] as BlobPart[], { type: 'application/zip' })
}

function word(value: number): Uint8Array {
  const view = new DataView(new ArrayBuffer(4))
  view.setUint32(0, value, true)
  return new Uint8Array(view.buffer)
}
