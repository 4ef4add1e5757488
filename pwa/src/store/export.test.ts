import { execFileSync } from 'node:child_process'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { aPicture, joinedPhone, WHERE } from '../../support/phone.ts'
import { note, takePhoto } from '../capture/index.ts'
import { exportFile, settleEntries } from './index.ts'
import { crc32 } from './zip.ts'

let folder: string

beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'export-'))
  await joinedPhone()
})
afterEach(() => rmSync(folder, { recursive: true }))

/** Unpacks with Python's zipfile, which checks every CRC, and hashes with Python's hashlib: neither is ours. */
async function unpacked(blob: Blob): Promise<Record<string, string>> {
  const path = join(folder, 'export.zip')
  writeFileSync(path, new Uint8Array(await blob.arrayBuffer()))
  const script = `
import hashlib, json, sys, zipfile
with zipfile.ZipFile(sys.argv[1]) as z:
    assert z.testzip() is None
    print(json.dumps({n: hashlib.sha256(z.read(n)).hexdigest() for n in z.namelist()} | {"sums": z.read("sha256sums.txt").decode(), "why": z.read("why.json").decode() if "why.json" in z.namelist() else ""}))`
  return JSON.parse(execFileSync(process.env.PYTHON ?? 'python3', ['-c', script, path], { encoding: 'utf8' }))
}

test('the CRC-32 is that of the zip format', () => {
  // The check value of CRC-32/ISO-HDLC in the catalogue of parametrised CRC algorithms.
  expect(crc32(new TextEncoder().encode('123456789'))).toBe(0xcbf43926)
})

test('what waits can be taken off the phone as one file that other tools open, records named by their hash', async () => {
  const saved = await takePhoto(WHERE, aPicture('bore.jpg', 70_000), 'camera')
  const second = await note(WHERE, 'Öl im Bohrloch')
  const files = await unpacked(await exportFile('unsent'))
  expect(files[`records/000001-${saved.id}.json`]).toBe(saved.hash)
  expect(files[`records/000002-${second.id}.json`]).toBe(second.hash)
  expect(files[`media/${saved.media[0]}`]).toBe(saved.media[0])
  for (const line of (files.sums ?? '').trim().split('\n')) {
    const [sum, name] = line.split('  ') as [string, string]
    expect(files[name], name).toBe(sum)
  }
})

test('what the server refused can be taken off with the reason', async () => {
  const saved = await note(WHERE, 'one')
  await note(WHERE, 'two')
  await settleEntries({ receipts: [], refused: [{ id: saved.id, code: 'unknown_place', message: 'The engine has no place bore/9.', settled: true }] })
  const files = await unpacked(await exportFile('attention'))
  expect(Object.keys(files).filter((name) => name.startsWith('records/'))).toHaveLength(2)
  expect(files.why).toContain('no place bore/9')
})
