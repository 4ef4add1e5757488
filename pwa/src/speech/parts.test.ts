import { createHash } from 'node:crypto'
import { beforeEach, describe, expect, it, vi } from 'vitest'
import type { PartList } from './shapes.ts'
import { CACHES } from './names.ts'

type Kept = Map<string, Response>

/** As much of the browser's cache as the parts use. */
class Caches {
  all = new Map<string, Kept>()
  full = false
  keys = async () => [...this.all.keys()]
  delete = async (name: string) => this.all.delete(name)
  async open(name: string) {
    const kept = this.all.get(name) ?? new Map<string, Response>()
    this.all.set(name, kept)
    return {
      match: async (url: string) => kept.get(url)?.clone(),
      put: async (url: string, file: Response) => {
        if (this.full) throw new DOMException('full', 'QuotaExceededError')
        kept.set(url, file)
      },
    }
  }
}

const ADDRESS = 'https://workshop.test/bay/speech/'
const sha256 = (words: string) => createHash('sha256').update(words).digest('hex')
const listOf = (files: Record<string, string>, speaks = 1): PartList => {
  const parts = Object.entries(files).map(([name, words]) => ({ name, size: words.length, sha256: sha256(words), type: 'text/plain' }))
  return { speaks, hash: sha256(JSON.stringify(parts)), files: parts }
}

let files: Record<string, string>
let wanted: PartList
let signal: boolean
let addresses: string[]
let kept: Caches
let speech: typeof import('./parts.ts')

beforeEach(async () => {
  files = { 'worker.js': 'hears', 'en-us/mdef': 'of sounds', 'en-us/means': 'of the middle' }
  wanted = listOf(files)
  signal = true
  addresses = []
  kept = new Caches()
  vi.stubGlobal('caches', kept)
  vi.stubGlobal('location', { href: 'https://workshop.test/bay/#/settings' })
  vi.stubGlobal('fetch', async (url: string) => {
    // The list belongs to the app: the service worker has it without signal too.
    if (url === `${ADDRESS}parts.json`) return Response.json(wanted)
    if (!signal) throw new TypeError('Failed to fetch')
    const [name = '', hash] = url.slice(ADDRESS.length).split('?')
    expect(hash).toBe(wanted.files.find((file) => file.name === name)?.sha256)
    addresses.push(name)
    return name in files ? new Response(files[name], { headers: { 'Content-Security-Policy': 'theirs', 'Content-Encoding': 'br' } }) : new Response('', { status: 404 })
  })
  vi.resetModules()
  speech = await import('./parts.ts')
})

const state = async () => (await speech.lookAtParts()).state

describe('the speech parts', () => {
  it('are none until somebody asks, are fetched once each, and are here', async () => {
    expect(await speech.lookAtParts()).toMatchObject({ state: 'none', done: 0, of: 3, bytes: 27, missing: 27, usable: false })
    const heard: number[] = []
    await speech.fetchParts(({ bytes }) => heard.push(bytes))
    expect(speech.parts.value).toMatchObject({ state: 'here', done: 3, missing: 0, usable: true })
    expect(heard[0]).toBe(0)
    expect(heard.at(-1)).toBe(27)
    await speech.fetchParts()
    expect(addresses.sort()).toEqual(['en-us/means', 'en-us/mdef', 'worker.js'].sort())
  })

  it("keep the server's fence, and lose what told of the journey", async () => {
    await speech.fetchParts()
    const worker = kept.all.get(CACHES + wanted.hash)?.get(`${ADDRESS}worker.js`)
    expect(worker?.headers.get('Content-Security-Policy')).toBe('theirs')
    expect(worker?.headers.get('Content-Encoding')).toBeNull()
    expect(worker?.headers.get('Content-Type')).toBe('text/plain')
  })

  it('a file that is not the one of this build is refused, named, and the good ones stay', async () => {
    files['en-us/means'] = 'of the middlf'
    await expect(speech.fetchParts()).rejects.toThrow(/not the en-us\/means that this app needs, so it was discarded/)
    expect(speech.parts.value).toMatchObject({ state: 'partly', done: 2, missing: 13, usable: false })
    files['en-us/means'] = 'of the middle'
    addresses.length = 0
    await speech.fetchParts()
    expect(addresses).toEqual(['en-us/means'])
    expect(speech.parts.value.state).toBe('here')
  })

  it('without signal say so, and the rest comes later', async () => {
    signal = false
    await expect(speech.fetchParts()).rejects.toThrow(/did not answer/)
    expect(await state()).toBe('none')
  })

  it('without room say so', async () => {
    kept.full = true
    await expect(speech.fetchParts()).rejects.toThrow(/no room/)
    expect(await state()).toBe('none')
  })

  it('that the server no longer has are named, with what to do', async () => {
    delete files['en-us/mdef']
    await expect(speech.fetchParts()).rejects.toThrow(/no en-us\/mdef \(404\)\. Update the app/)
  })

  it('survive an update that changes none of them', async () => {
    await speech.fetchParts()
    addresses.length = 0
    await speech.renewParts()
    expect(speech.parts.value.state).toBe('here')
    expect(addresses).toEqual([])
  })

  it('are old when an update changes one: they go on working, and that one alone is fetched, by itself if it is small', async () => {
    await speech.fetchParts()
    files = { ...files, 'worker.js': 'hears better' }
    wanted = listOf(files)
    signal = false
    await speech.renewParts()
    expect(speech.parts.value).toMatchObject({ state: 'old', done: 2, missing: 12, usable: true })
    signal = true
    addresses.length = 0
    await speech.renewParts()
    expect(addresses).toEqual(['worker.js'])
    expect(speech.parts.value).toMatchObject({ state: 'here', usable: true })
    expect(await kept.keys()).toEqual([CACHES + wanted.hash])
  })

  it('that speak to the app in another way are not used until they are renewed', async () => {
    wanted = listOf(files, 0)
    await speech.fetchParts()
    expect(speech.parts.value.usable).toBe(false)
  })

  it('are removed when asked, and nothing else is', async () => {
    await speech.fetchParts()
    await kept.open('witnessmark-bay-0123456789ab')
    await speech.removeParts()
    expect(speech.parts.value.state).toBe('none')
    expect(await kept.keys()).toEqual(['witnessmark-bay-0123456789ab'])
  })
})
