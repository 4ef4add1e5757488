// One entry as its device made it.

export interface Location {
  place: string
  point: string
}

export interface Clock {
  boot: string
  monotonic_ms: number
  offset_ms: number | null
  offset_age_s: number | null
  zone: string
}

export interface MediaItem {
  length: number
  name: string
  role: string
  sha256: string
  /** Of a picture: the hash of its pixels alone. Missing in records from before it was signed. */
  scan_sha256?: string
  type: string
}

/**
 * What else an entry is tied to: its number and the entry before it among its device's entries of the same job, and the log
 * as the device last knew it. Null where there is no job, or no log was known.
 */
export interface Links {
  job: { number: number; previous: string } | null
  log: { root: string; size: number } | null
}

export interface Entry {
  author: string
  body: Record<string, unknown>
  claimed: string
  clock: Clock
  device: string
  id: string
  job: string | null
  kind: string
  /** Missing in entries from before there were any. */
  links?: Links
  location: Location | null
  media: MediaItem[]
  previous: string
  sequence: number
  stage: string | null
  version: number
  workshop: string
}
