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
  type: string
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
  location: Location | null
  media: MediaItem[]
  previous: string
  sequence: number
  stage: string | null
  version: number
  workshop: string
}
