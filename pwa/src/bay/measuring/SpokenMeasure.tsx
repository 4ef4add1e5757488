import { useEffect, useState } from 'preact/hooks'
import { measure } from '../../capture/index.ts'
import { Choice, Field } from '../../parts/controls/Field.tsx'
import { Sheet } from '../../parts/controls/Sheet.tsx'
import type { EngineType, Job } from '../../store/index.ts'
import type { Screen } from '../../trade/spoken/types.ts'
import { QUANTITIES } from '../../trade/ground/units.ts'
import { Told } from '../frame/Frame.tsx'
import { SpokenActs, SpokenFigure } from '../speaking/SpokenFigure.tsx'
import { SpokenPanel, SpokenTold } from '../speaking/SpokenPanel.tsx'
import { nameOfPlace, placesOf, togetherWith } from '../frame/places.ts'
import { quantitiesFor, quantityWords, unitsFor } from '../frame/quantities.ts'
import { TWO_POINTS, wanting, whyNoFigure } from '../speaking/spoken.ts'
import { useWhere } from '../frame/useJob.ts'
import { useSaving } from '../frame/useSaving.ts'
import { type Spoken, useSpoken } from '../speaking/useSpoken.ts'
import { gaugeInHand, withOf } from './useWith.ts'
import { capital } from '../frame/words.ts'

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
  const fault = proposal?.asks.includes('point') && !place ? TWO_POINTS : ''
  const wants = proposal ? wanting(proposal, { place: where, quantity: what, units: what ? unitsFor(what) : [] }) : []
  const record = async () => {
    if (!proposal || !spoken.heard || wants.length || fault) return
    const { value, unit } = proposal
    const { name, id } = gaugeInHand('', what)
    const reading = { procedure: '', edition: 0, reading: '', quantity: what, value, unit, gauge: name, gauge_id: id, remark, ...withOf(job) }
    const said = spoken.heard
    const words = `${capital(nameOfPlace(job, where, point))}, ${quantityWords(what)}: ${value} ${unit}. Saved.`
    if (await saving.keep(() => measure({ job: job.id, place: where, point }, reading, said), words)) spoken.putAway()
  }
  const forget = () => {
    spoken.forget()
    saving.forget()
  }
  return { ...spoken, forget, job, type, where, point, what, wants, fault, record, choosePlace: setPlace, saving }
}

export type SpokenReading = ReturnType<typeof useSpokenReading>

/** What was kept, or why nothing is proposed. */
export function SpokenReadingTold({ spoken }: { spoken: SpokenReading }) {
  const { told } = spoken.saving
  return (
    <>
      <SpokenTold spoken={spoken as Spoken} />
      {!spoken.told.words && told.words && spoken.phase === 'still' && <Told words={told.words} wrong={told.wrong} />}
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
        whats={quantitiesFor(where.split('/')[0] ?? '').map((one) => ({ value: one.code, words: one.short }))}
        wants={spoken.wants}
        warning=""
        fault={spoken.fault}
        onPlace={type ? () => setOpened('place') : undefined}
        onWhat={() => setOpened('what')}
      />
      <Told words={saving.told.wrong ? saving.told.words : ''} wrong />
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
  const alike = all.filter((one) => one.part === part)
  const near = now ? togetherWith(type, now).filter((one) => one.part !== part) : []
  const choose = (to: string) => {
    if (!to) return
    onChoose(to)
    onClose()
  }
  const options = (places: typeof all) => places.map((one) => ({ value: one.code, words: one.name }))
  return (
    <Sheet title="Where it belongs" onClose={onClose}>
      <div class="form said-where">
        {alike.length > 0 && <Choice label="The same part" options={options(alike)} chosen={[now]} onChoose={choose} />}
        {near.length > 0 && <Choice label="At the same place" options={options(near)} chosen={[now]} onChoose={choose} />}
        <Field label="Anywhere on the engine" value="" onValue={choose} options={[{ value: '', words: 'choose a place' }, ...options(all)]} />
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
    <Sheet title="What is measured" onClose={onClose}>
      <div class="form said-where">
        <Choice label="Usual here" options={usual.map((one) => ({ value: one.code, words: one.short }))} chosen={[now]} onChoose={choose} />
        <Field
          label="Anything else"
          value=""
          onValue={choose}
          options={[{ value: '', words: 'choose' }, ...QUANTITIES.map((one) => ({ value: one.code, words: one.words }))]}
        />
      </div>
    </Sheet>
  )
}
