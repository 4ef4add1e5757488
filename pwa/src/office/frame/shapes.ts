// What the read API answers and takes, under the names the office has for it. The shapes are the server's own description.

import type { Place } from '../../wire/openapi.d.ts'

export type {
  ChecklistItem as CheckItem,
  Correction,
  DeskEntry as NewEntry,
  Door,
  EngineType,
  EngineTypeShown,
  Entry as WholeEntry,
  HeardResult as Result,
  IdAndName as Named,
  Invitation,
  Item,
  Job,
  JobLine,
  Jobs,
  LogHead as Head,
  Me,
  MediaShown as Media,
  Owner,
  Pack,
  Person,
  PhoneListed as Phone,
  RecordDiffers as Questioned,
  SpokenNote as Note,
  TimelinePage as Page,
  Visit,
} from '../../wire/openapi.d.ts'

/** A place as the office sends it: its point always with it, "" for none. */
export type Location = Required<Place>
