// A workshop's server small enough to read, for the phone's unit tests: a log in memory, signed heads, tus uploads.
// The true server is tried in tests/browser; this one can be told to fail in ways a true one rarely does.
import { canonical, parse, sha256Hex } from '../src/trade/ground/canonical.ts'
import { base64, hex, unhex } from '../src/store/hash.ts'

const ECDSA = { name: 'ECDSA', namedCurve: 'P-256' } as const
const SIGN = { name: 'ECDSA', hash: 'SHA-256' } as const
const bytesOf = (text: string) => new TextEncoder().encode(text)

export interface LogRow {
  position: number
  id: string
  hash: string
  bytes: string
  signature: string
  received: string
  stamp: string
  device: string
  sequence: number
  job: string | null
  kind: string
}

export type Fault = (path: string, init: RequestInit) => Response | 'drop' | 'lose the answer' | undefined | Promise<Response | undefined>

export async function keyPair() {
  const pair = await crypto.subtle.generateKey(ECDSA, true, ['sign', 'verify'])
  return { pair, spki: base64(new Uint8Array(await crypto.subtle.exportKey('spki', pair.publicKey))) }
}

export async function sign(key: CryptoKey, text: string): Promise<string> {
  return base64(new Uint8Array(await crypto.subtle.sign(SIGN, key, bytesOf(text))))
}

export async function leafHash(data: string): Promise<string> {
  return sha256Hex(new Uint8Array([0, ...bytesOf(data)]))
}

/** MTH of RFC 9162, 2.1.1, written as it stands there. */
export async function treeRoot(leaves: string[]): Promise<string> {
  if (leaves.length === 0) return sha256Hex(new Uint8Array())
  if (leaves.length === 1) return leaves[0] as string
  const k = split(leaves.length)
  return nodeHash(await treeRoot(leaves.slice(0, k)), await treeRoot(leaves.slice(k)))
}

/** SUBPROOF of RFC 9162, 2.1.4.1, written as it stands there. */
export async function growthProof(m: number, leaves: string[], whole = true): Promise<string[]> {
  const n = leaves.length
  if (m === n) return whole ? [] : [await treeRoot(leaves)]
  const k = split(n)
  if (m <= k) return [...(await growthProof(m, leaves.slice(0, k), whole)), await treeRoot(leaves.slice(k))]
  return [...(await growthProof(m - k, leaves.slice(k), false)), await treeRoot(leaves.slice(0, k))]
}

/** PATH of RFC 9162, 2.1.3.1, written as it stands there; `m` counts from 0. */
export async function inclusionProof(m: number, leaves: string[]): Promise<string[]> {
  if (leaves.length === 1) return []
  const k = split(leaves.length)
  if (m < k) return [...(await inclusionProof(m, leaves.slice(0, k))), await treeRoot(leaves.slice(k))]
  return [...(await inclusionProof(m - k, leaves.slice(k))), await treeRoot(leaves.slice(0, k))]
}

const split = (n: number) => 2 ** Math.floor(Math.log2(n - 1))
const nodeHash = (left: string, right: string) => sha256Hex(new Uint8Array([1, ...unhex(left), ...unhex(right)]))

export class SmallServer {
  readonly workshop = { id: '0197aaaa-0000-7000-8000-000000000001', name: 'Reed & Daughter, invented' }
  readonly device = { id: '0197aaaa-0000-7000-8000-0000000000d1', name: 'Bench phone', letter: 'A' }
  readonly people = [{ id: '0197aaaa-0000-7000-8000-0000000000a1', name: 'Tomas', role: 'technician', active: true, pin: null }]
  epoch = 'first'
  log: LogRow[] = []
  media = new Map<string, Uint8Array>()
  partial = new Map<string, Uint8Array>()
  previews = new Set<string>()
  durable = 0
  largestChunk = Number.POSITIVE_INFINITY
  phoneKey = ''
  signedOut = false
  asked: string[] = []
  /** Consulted before every request; undefined lets it through. */
  fault: Fault = () => undefined
  /** What the workshop's rules say about a record; undefined takes it in. */
  rule: (entry: Record<string, unknown>) => { code: string; message: string } | undefined = () => undefined
  private constructor(
    private readonly key: CryptoKey,
    readonly spki: string,
    readonly id: string,
  ) {}

  static async founded(): Promise<SmallServer> {
    const { pair, spki } = await keyPair()
    const id = (await sha256Hex(Uint8Array.from(atob(spki), (c) => c.charCodeAt(0)))).slice(0, 32)
    return new SmallServer(pair.privateKey, spki, id)
  }

  /** Takes the place of the network. */
  fetch = async (path: string, init: RequestInit = {}): Promise<Response> => {
    this.asked.push(`${init.method ?? 'GET'} ${path}`)
    const fault = await this.fault(path, init)
    if (fault === 'drop') throw new TypeError('Failed to fetch')
    if (fault instanceof Response) return fault
    const answer = await this.answer(path, init)
    if (fault === 'lose the answer') throw new TypeError('Failed to fetch')
    return answer
  }

  json(value: object, status = 200, headers: Record<string, string> = {}): Response {
    const body = { server: this.id, epoch: this.epoch, protocol: 1, time: new Date().toISOString(), ...value }
    return new Response(JSON.stringify(body), { status, headers: { ...this.headers(), 'Content-Type': 'application/json', ...headers } })
  }

  headers = () => ({ 'Witnessmark-Server': this.id, 'Witnessmark-Epoch': this.epoch, 'Witnessmark-Protocol': '1', 'Tus-Resumable': '1.0.0' })

  private async answer(path: string, init: RequestInit): Promise<Response> {
    const url = new URL(path, 'https://workshop.test')
    const body = typeof init.body === 'string' ? (JSON.parse(init.body) as Record<string, unknown>) : {}
    if (url.pathname === '/api/sync/join') {
      if (!(await this.showsItsKey(body))) return this.json({ code: 'proof', message: 'The phone does not hold this key.', where: 'proof' }, 422)
      this.phoneKey = String(body.public_key)
      return this.json({ server_key: this.spki, workshop: this.workshop, device: this.device, token: 'pass', people: this.people }, 201)
    }
    if (this.signedOut) return this.json({ code: 'not_signed_in', message: 'This pass is not known here.', where: '' }, 401)
    if (url.pathname === '/api/sync/state') return this.state()
    if (url.pathname === '/api/sync/push') return this.push(body.entries as { bytes: string; signature: string }[], (body.lost ?? []) as { sequence: number }[])
    if (url.pathname === '/api/sync/pull') return this.pull(url.searchParams)
    if (url.pathname === '/api/sync/consistency') {
      const [from, to] = [Number(url.searchParams.get('from')), Number(url.searchParams.get('to'))]
      return this.json({ proof: await growthProof(from, (await this.leaves()).slice(0, to)) })
    }
    if (url.pathname === '/api/sync/inclusion') return this.json(await this.inclusion(body.positions as number[], Number(body.size)))
    if (url.pathname === '/api/sync/digest') {
      const of = this.log.filter((row) => row.job === url.searchParams.get('feed')?.slice(4) && row.position <= Number(url.searchParams.get('upto')))
      return this.json({ count: of.length, digest: await sha256Hex(bytesOf(of.map((row) => row.hash).join(''))) })
    }
    if (url.pathname === '/api/media/have') return this.json({ here: (body.sha256 as string[]).filter((sha) => this.media.has(sha)) })
    if (url.pathname.endsWith('/preview')) {
      this.previews.add(url.pathname.split('/')[3] as string)
      return this.json({})
    }
    if (url.pathname.startsWith('/api/media/uploads')) return this.upload(url.pathname, init)
    return this.json({ code: 'not_found', message: 'There is nothing under this address.', where: '' }, 404)
  }

  /** Whether a request to join is signed with the key that it brings. */
  private async showsItsKey({ code, device, name, platform, public_key, proof }: Record<string, unknown>): Promise<boolean> {
    const raw = (text: unknown) => Uint8Array.from(atob(String(text)), (c) => c.charCodeAt(0))
    const key = await crypto.subtle.importKey('spki', raw(public_key), ECDSA, false, ['verify'])
    const message = canonical({ code, device: device ?? '', name, platform, public_key, purpose: 'join' } as never)
    return crypto.subtle.verify(SIGN, key, raw(proof), bytesOf(message))
  }

  private leaves = () => Promise.all(this.log.map((row) => leafHash(row.stamp)))

  async head() {
    const root = await treeRoot(await this.leaves())
    const head = { epoch: this.epoch, root, server: this.id, size: this.log.length, time: new Date().toISOString(), workshop: this.workshop.id }
    const bytes = canonical(head)
    return { bytes, signature: await sign(this.key, bytes) }
  }

  private lastOf(device: string) {
    return this.log.filter((row) => row.device === device).reduce((last, row) => (row.sequence > last.sequence ? row : last), { sequence: 0, hash: '' })
  }

  /** The ways up from these positions, each hash once; a position of 0 has none. */
  async inclusion(positions: number[], size: number): Promise<{ hashes: string[]; paths: number[][] }> {
    const leaves = (await this.leaves()).slice(0, size)
    const ways = await Promise.all(positions.map((position) => (position ? inclusionProof(position - 1, leaves) : [])))
    const hashes = [...new Set(ways.flat())]
    return { hashes, paths: ways.map((way) => way.map((hash) => hashes.indexOf(hash))) }
  }

  private async state(): Promise<Response> {
    const last = this.lastOf(this.device.id)
    const device = { ...this.device, last_sequence: last.sequence, last_hash: last.hash, revoked: false }
    const { workshop, people, durable } = this
    return this.json({ workshop, device, people, head: await this.head(), size: this.log.length, chunk_bytes: 1024, durable_size: durable, build: 'test' })
  }

  private async push(offered: { bytes: string; signature: string }[], lost: { sequence: number }[]): Promise<Response> {
    for (const { sequence } of lost)
      if (sequence === this.lastOf(this.device.id).sequence + 1) await this.append({ bytes: '{}', signature: '' }, { sequence, device: this.device.id, kind: 'entry_refused' })
    const results = []
    for (const signedEntry of offered) results.push(await this.take(signedEntry))
    const paths = await this.inclusion(results.map((result) => result.position ?? 0), this.log.length)
    const withPaths = results.map((result, i) => ({ ...result, path: result.position ? paths.paths[i] : null }))
    return this.json({ results: withPaths, hashes: paths.hashes, head: await this.head(), last_sequence: this.lastOf(this.device.id).sequence })
  }

  private async take(signedEntry: { bytes: string; signature: string }) {
    const entry = parse(signedEntry.bytes) as Record<string, unknown>
    const hash = await sha256Hex(bytesOf(signedEntry.bytes))
    const result = { id: entry.id, hash, code: '', message: '', position: null, received: null, stamp: null }
    const known = this.log.find((row) => row.hash === hash)
    if (known?.kind === 'entry_refused') return { ...result, result: 'refused', code: 'rule', message: 'Refused before.' }
    if (known) return { ...result, result: 'duplicate', position: known.position, received: known.received, stamp: known.stamp }
    if (Number(entry.sequence) > this.lastOf(String(entry.device)).sequence + 1) return { ...result, result: 'later', code: 'gap' }
    if (Number(entry.sequence) <= this.lastOf(String(entry.device)).sequence) return { ...result, result: 'refused', code: 'fork' }
    const refusal = this.rule(entry)
    if (refusal) {
      if (refusal.code !== 'signature') await this.append(signedEntry, { ...entry, kind: 'entry_refused' })
      return { ...result, ...refusal, result: 'refused' }
    }
    const row = await this.append(signedEntry, entry)
    return { ...result, result: 'stored', position: row.position, received: row.received, stamp: row.stamp }
  }

  /** Adds to the log whatever it is given: for records of other phones, and forged ones. */
  async append(signedEntry: { bytes: string; signature: string }, entry: Record<string, unknown>): Promise<LogRow> {
    const hash = await sha256Hex(bytesOf(signedEntry.bytes))
    const position = this.log.length + 1
    const received = new Date().toISOString()
    const stamp = canonical({ entry: hash, offset_ms: null, position, received, signature: signedEntry.signature })
    const { id, device, sequence, job, kind } = entry as unknown as LogRow
    const row = { position, id, hash, ...signedEntry, received, stamp, device, sequence, job: job ?? null, kind }
    this.log.push(row)
    return row
  }

  private async pull(query: URLSearchParams): Promise<Response> {
    const feed = query.get('feed') ?? ''
    const shared = ['job_opened', 'job_amended', 'stage_reached']
    const of = this.log.filter((row) => row.bytes !== '{}' && (feed === 'workshop' ? row.job === null || shared.includes(row.kind) : row.job === feed.slice(4)))
    const limit = Number(query.get('limit'))
    const before = query.get('before')
    const after = Number(query.get('after') ?? 0)
    const wanted = before ? of.filter((row) => row.position < Number(before)).reverse() : of.filter((row) => row.position > after)
    const entries = wanted.slice(0, limit).map(({ position, bytes, signature, received }) => ({ position, bytes, signature, received, offset_ms: null }))
    return this.json({ feed, entries, next: entries.at(-1)?.position ?? after, more: wanted.length > limit, size: this.log.length, head: await this.head() })
  }

  private async upload(path: string, init: RequestInit): Promise<Response> {
    const sent = new Headers(init.headers)
    if (init.method === 'POST') {
      const sha = atob((sent.get('Upload-Metadata') ?? '').split(',')[0]?.split(' ')[1] ?? '')
      const name = `${sha}.${sent.get('Upload-Length')}`
      this.partial.set(name, this.partial.get(name) ?? new Uint8Array())
      return new Response(null, { status: 201, headers: { ...this.headers(), Location: `/api/media/uploads/${name}`, 'Upload-Offset': '0' } })
    }
    const name = path.split('/').at(-1) as string
    const [sha, length] = name.split('.') as [string, string]
    const at = this.media.get(sha)?.length ?? this.partial.get(name)?.length
    if (at === undefined) return this.json({ code: 'no_such_upload', message: 'Begin it again.', where: '' }, 404)
    const standing = (offset: number, status: number) => new Response(null, { status, headers: { ...this.headers(), 'Upload-Offset': String(offset) } })
    if (init.method === 'HEAD') return standing(at, 200)
    const piece = new Uint8Array(init.body as ArrayBuffer)
    if (piece.length > this.largestChunk) return this.json({ code: 'too_large', message: 'Send less at once.', where: '' }, 413)
    if (Number(sent.get('Upload-Offset')) !== at) return this.json({ code: 'offset_differs', message: 'Ask where it stands.', where: '' }, 409)
    const whole = new Uint8Array([...(this.partial.get(name) as Uint8Array), ...piece])
    this.partial.set(name, whole)
    if (whole.length === Number(length)) {
      this.partial.delete(name)
      if ((await sha256Hex(whole)) !== sha) return this.json({ code: 'hash_differs', message: 'Send it again.', where: '' }, 460)
      this.media.set(sha, whole)
    }
    return standing(whole.length, 204)
  }
}

export const randomHex = (bytes: number) => hex(crypto.getRandomValues(new Uint8Array(bytes)))
