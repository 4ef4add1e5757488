// A phone joins the workshop: it makes its key, shows the public half and a one-time code, and learns whose server this is.
import { canonicalBytes } from '../trade/ground/canonical.ts'
import { makeDeviceKeys, keepDevice, keepJoin, keepForGood, phone, signBytes, waiting } from '../store/index.ts'
import { requestJson, NoAnswer, PROTOCOL, Refused } from './api.ts'
import { serverId } from './keys.ts'
import type { Joined } from './wire.ts'
import { say } from '../store/say.ts'

/**
 * Joins with a code from the office. Rejects with a sentence to show. Safe to repeat with the same code when the answer
 * was lost: the key stays the same, and the server knows it again.
 */
export async function join(code: string, phoneName: string): Promise<void> {
  const before = phone.peek()
  const { publicKey } = await makeDeviceKeys()
  const platform = typeof navigator === 'undefined' ? '' : navigator.userAgent.slice(0, 200)
  let joined: Joined
  try {
    const statement = { code: code.trim(), name: phoneName.trim(), public_key: publicKey, platform }
    // The public half may be read by all; signing the request shows that this phone holds the other. Its code makes it fresh.
    const proof = await signBytes(canonicalBytes({ ...statement, device: before?.device.id ?? '', purpose: 'join' }))
    const json = { protocol: PROTOCOL, ...statement, ...(before && { device: before.device.id }), proof }
    joined = await requestJson<Joined>('/api/sync/join', { method: 'POST', json, stranger: true })
  } catch (fault) {
    if (fault instanceof Refused || (fault instanceof NoAnswer && fault.kind === 'not_ours')) throw fault
    throw new Error(say('join.no_server'))
  }
  if ((await serverId(joined.server_key)) !== joined.server)
    throw new Error(say('join.wrong_key'))
  // What waits here is signed for one workshop and one number in it: under another it could never be sent.
  const { records, pictures, sounds } = waiting.value
  if (before && (before.workshop.id !== joined.workshop.id || before.device.id !== joined.device.id) && records + pictures + sounds > 0)
    throw new Error(say('join.another_phone'))
  const { workshop, device, server, server_key, token, people } = joined
  // The same phone again, perhaps because a backup was put back that does not know its pass: it must still find out that the
  // epoch changed, and offer what the backup lacks. The server's state tells it, at the next run.
  const epoch = before?.server === server && before.device.id === device.id ? before.epoch : joined.epoch
  await keepJoin({ workshop, device, server, serverKey: server_key, epoch, token, joined: new Date().toISOString() }, people)
  await keepDevice({ ...device, public_key: publicKey, revoked: false })
  void keepForGood().catch(() => false)
}
