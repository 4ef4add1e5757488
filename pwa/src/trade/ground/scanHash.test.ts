import { expect, test } from 'vitest'
import vectors from '../../../../tests/vectors/scans.json'
import { scanHash } from './scanHash.ts'

const bytesOf = (base64: string) => Uint8Array.from(atob(base64), (c) => c.charCodeAt(0))

test.each(vectors.pictures)('$name', async ({ base64, scan }) => {
  expect(await scanHash(bytesOf(base64))).toBe(scan)
  expect(await scanHash(bytesOf(base64).buffer)).toBe(scan)
})

test('a picture cut off has another scan hash or none, and nothing is thrown', async () => {
  for (const { base64, scan } of vectors.pictures.filter((picture) => picture.scan)) {
    const whole = bytesOf(base64)
    for (let length = 0; length < whole.length / 2; length += 7) {
      const cut = await scanHash(whole.slice(0, length))
      expect(cut === null || cut !== scan).toBe(true)
    }
  }
})
