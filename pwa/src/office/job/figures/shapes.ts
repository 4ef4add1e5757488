// What the read API answers about the measurements of a job.

export type { EarlierVisit, JobFigures, Proposal } from '../../../wire/openapi.d.ts'
