// The phone's time, recorded as a claim beside what else is known; it decides nothing.
import { measuredClock, type Clock } from '../store/index.ts'

/** Marks one run of this page: within it the monotonic count can be compared. */
export const boot = Array.from(crypto.getRandomValues(new Uint8Array(4)), (b) => b.toString(16).padStart(2, '0')).join('')

export const monotonic = () => Math.round(performance.now())

/** RFC 3339 with milliseconds and the device's own offset, like 2026-05-14T10:38:07.120+01:00. */
export function claimed(at: Date = new Date()): string {
  const minutes = -at.getTimezoneOffset()
  const sign = minutes < 0 ? '-' : '+'
  const two = (n: number) => String(Math.trunc(n)).padStart(2, '0')
  const offset = `${sign}${two(Math.abs(minutes) / 60)}:${two(Math.abs(minutes) % 60)}`
  return new Date(at.getTime() + minutes * 60_000).toISOString().replace('Z', offset)
}

/** The device's clock as the entry states it: its last measured offset from the server, and how old that measure is. */
export async function clock(): Promise<Clock> {
  const zone = Intl.DateTimeFormat().resolvedOptions().timeZone ?? 'UTC'
  const now = monotonic()
  const last = await measuredClock()
  if (!last) return { boot, monotonic_ms: now, offset_ms: null, offset_age_s: null, zone }
  // Across restarts only the wall clock links the two moments; it may have been set meanwhile, never below nothing.
  const age = last.boot === boot ? now - last.monotonic_ms : Date.now() - last.wall_ms
  return { boot, monotonic_ms: now, offset_ms: last.offset_ms, offset_age_s: Math.max(0, Math.round(age / 1000)), zone }
}
