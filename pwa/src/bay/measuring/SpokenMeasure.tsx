import { useEffect, useState } from 'preact/hooks'
import { measure } from '../../capture/index.ts'
import { Choice, Field } from '../../parts/controls/Field.tsx'
import { Sheet } from '../../parts/controls/Sheet.tsx'
import type { EngineType, Job } from '../../store/index.ts'
import type { Screen } from '../../trade/spoken/types.ts'
import { QUANTITIES } from '../../trade/ground/units.ts'
import { StatusMessage } from '../frame/Frame.tsx'
import { SpokenActs, SpokenFigure } from '../speaking/SpokenFigure.tsx'
import { SpokenPanel, SpokenMessage } from '../speaking/SpokenPanel.tsx'
import { nameOfPlace, placesOf, togetherWith } from '../frame/places.ts'
import { quantitiesFor, quantityWords, unitsFor } from '../frame/quantities.ts'
import { twoPoints, wanting, whyNoFigure } from '../speaking/spoken.ts'
import { useWhere } from '../frame/useJob.ts'
import { useSaving } from '../frame/useSaving.ts'
import { type Spoken, useSpoken } from '../speaking/useSpoken.ts'
import { gaugeInHand, withOf } from './useWith.ts'
import { capital } from '../frame/words.ts'
import { say } from '../frame/say.ts'

/**
 * Speaking a single reading. `quantity` where the screen has one chosen, else '': then any place of the engine may be
 * named, and the place in hand is meant only where none is.
 */
export function useSpokenReading(job: Job, type: EngineType | null, quantity: string, remark = '') {
  const at = useWhere(job)
  const screen: Screen = { sort: 'measure', place: quantity ? at.place : '', point: '', procedure: '', reading: '', quantity, units: quantity ? unitsFor(quantity) : [] }
  const spoken = useSpoken({ at, type, screen, to: quantity ? 'measure' : 'none', why: whyNoFigure })
  const saving = useSaving()
  const [place, setPlace] = useState('')
  const { proposal } = spoken
  useEffect(() => {
    if (!proposal) setPlace('')
  }, [proposal === null])
  const where = place || (proposal?.place_spoken ? proposal.place : at.place)
  // A point is of its place: one that stood chosen at another place is not of this one.
  const point = proposal?.point || (where === at.place ? at.point : '')
  // A quantity that was named and is none of this place is not that of the screen either.
  const what = proposal?.quantity_spoken || spoken.hand.has('quantity') ? (proposal?.quantity ?? '') : quantity
  const fault = proposal?.asks.includes('point') && !place ? twoPoints() : ''
  const wants = proposal ? wanting(proposal, { place: where, quantity: what, units: what ? unitsFor(what) : [] }) : []
  const record = async () => {
    if (!proposal || !spoken.heard || wants.length || fault) return
    const { value, unit } = proposal
    const { name, id } = gaugeInHand('', what)
    const reading = { procedure: '', edition: 0, reading: '', quantity: what, value, unit, gauge: name, gauge_id: id, remark, ...withOf(job) }
    const source = spoken.heard
    const words = say('grid.saved', { place: capital(nameOfPlace(job, where, point)), reading: quantityWords(what), value: `${value} ${unit}`.trim() })
    if (await saving.attempt(() => measure({ job: job.id, place: where, point }, reading, source), words)) spoken.putAway()
  }
  const forget = () => {
    spoken.forget()
    saving.forget()
  }
  return { ...spoken, forget, job, type, where, point, what, wants, fault, record, choosePlace: setPlace, saving }
}

export type SpokenReading = ReturnType<typeof useSpokenReading>

/** What was saved, or why nothing is proposed. */
export function SpokenReadingMessage({ spoken }: { spoken: SpokenReading }) {
  const { message } = spoken.saving
  return (
    <>
      <SpokenMessage spoken={spoken as Spoken} />
      {!spoken.message.words && message.words && spoken.phase === 'still' && <StatusMessage words={message.words} wrong={message.wrong} />}
    </>
  )
}

/** What was understood of a single reading, above the acts. */
export function SpokenMeasure({ spoken }: { spoken: SpokenReading }) {
  const { job, type, where, point, what, saving } = spoken
  const at = useWhere(job)
  const [opened, setOpened] = useState<'' | 'place' | 'what'>('')
  const close = () => setOpened('')
  return (
    <SpokenPanel spoken={spoken as Spoken} of={nameOfPlace(job, at.place, at.point)}>
      <SpokenFigure
        spoken={spoken as Spoken}
        place={where ? nameOfPlace(job, where, point) : ''}
        what={what ? quantityWords(what) : ''}
        units={what ? unitsFor(what) : []}
        whats={quantitiesFor(where.split('/')[0] ?? '').map(({ code, short }) => ({ value: code, words: short }))}
        wants={spoken.wants}
        warning=""
        fault={spoken.fault}
        onPlace={type ? () => setOpened('place') : undefined}
        onWhat={() => setOpened('what')}
      />
      <StatusMessage words={saving.message.wrong ? saving.message.words : ''} wrong />
      {opened === 'place' && type && <PlaceSheet type={type} now={where} onChoose={(to) => (spoken.choosePlace(to), spoken.change('place', (before) => before))} onClose={close} />}
      {opened === 'what' && (
        <WhatSheet part={where.split('/')[0] ?? ''} now={what} onChoose={(code) => spoken.change('quantity', (before) => ({ ...before, quantity: code }))} onClose={close} />
      )}
    </SpokenPanel>
  )
}

export function SpokenReadingActs({ spoken }: { spoken: SpokenReading }) {
  return <SpokenActs spoken={spoken as Spoken} ready={spoken.wants.length === 0 && !spoken.fault} busy={spoken.saving.busy} onRecord={() => void spoken.record()} />
}

/** Another place: its neighbours of the same part and what lies with it first, the rest of the engine in a list. */
function PlaceSheet({ type, now, onChoose, onClose }: { type: EngineType; now: string; onChoose: (place: string) => void; onClose: () => void }) {
  const all = placesOf(type)
  const part = now.split('/')[0]
  const alike = all.filter((place) => place.part === part)
  const near = now ? togetherWith(type, now).filter((place) => place.part !== part) : []
  const choose = (to: string) => {
    if (!to) return
    onChoose(to)
    onClose()
  }
  const options = (places: typeof all) => places.map(({ code, name }) => ({ value: code, words: name }))
  return (
    <Sheet title={say('speaking.where_it_belongs')} onClose={onClose}>
      <div class="form said-where">
        {alike.length > 0 && <Choice label={say('speaking.same_part')} options={options(alike)} chosen={[now]} onChoose={choose} />}
        {near.length > 0 && <Choice label={say('measure.same_place')} options={options(near)} chosen={[now]} onChoose={choose} />}
        <Field label={say('speaking.anywhere')} value="" onValue={choose} options={[{ value: '', words: say('speaking.choose_place') }, ...options(all)]} />
      </div>
    </Sheet>
  )
}

function WhatSheet({ part, now, onChoose, onClose }: { part: string; now: string; onChoose: (code: string) => void; onClose: () => void }) {
  const usual = quantitiesFor(part)
  const choose = (code: string) => {
    if (!code) return
    onChoose(code)
    onClose()
  }
  return (
    <Sheet title={say('common.what_is_measured')} onClose={onClose}>
      <div class="form said-where">
        <Choice label={say('speaking.usual')} options={usual.map(({ code, short }) => ({ value: code, words: short }))} chosen={[now]} onChoose={choose} />
        <Field
          label={say('speaking.anything_else')}
          value=""
          onValue={choose}
          options={[{ value: '', words: say('common.choose') }, ...QUANTITIES.map(({ code, words }) => ({ value: code, words }))]}
        />
      </div>
    </Sheet>
  )
}
