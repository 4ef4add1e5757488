import { useState } from 'preact/hooks'
import { find } from '../../capture/index.ts'
import { Choice, Field } from '../../parts/controls/Field.tsx'
import type { Job } from '../../store/index.ts'
import { conditionsFor } from '../../trade/engine/vocabulary.ts'
import { TYPED } from '../../trade/record/kinds.ts'
import { Act, BackAct, Screen, StatusMessage } from '../frame/Frame.tsx'
import { nameOfPlace } from '../frame/places.ts'
import { say } from '../frame/say.ts'
import { type Drafted, useDraft } from '../frame/useDraft.ts'
import { goTo, useType, useWhere } from '../frame/useJob.ts'
import { useSaving } from '../frame/useSaving.ts'
import { capital } from '../frame/words.ts'
import { Heard, SpokenActs } from '../speaking/SpokenFigure.tsx'
import { TalkAct } from '../speaking/SpokenPanel.tsx'
import { DISPOSITIONS } from './dispositions.ts'
import { isElsewhere, SpokenFinding, useSpokenFinding } from './SpokenFinding.tsx'

// The words a part usually shows stand first; the rest is one touch away.
const FIRST = 9

const BLANK = { observation: '', condition: [] as string[], opinion: '', disposition: '', ...TYPED }

type Draft = Drafted<typeof BLANK>

/** A finding: what is seen, in its condition words, and apart from it the opinion. */
export function Finding({ job }: { job: Job }) {
  const at = useWhere(job)
  const draft = useDraft(`finding/${job.id}`, BLANK)
  const { message, busy, attempt } = useSaving()
  const v = draft.value
  const ready = Boolean(v.observation.trim())
  const spoken = useSpokenFinding(job, useType(job))
  const { proposal, heard } = spoken
  /** What was understood goes into the form, and nowhere else: there it is read once more. */
  const use = () => {
    if (!proposal || !heard) return
    const condition = [...new Set([...v.condition, ...proposal.conditions])]
    const observation = v.observation.trim() ? v.observation : proposal.conditions.length ? `${capital(proposal.conditions.join(', '))}.` : ''
    if (isElsewhere(proposal, at.place)) goTo(job, proposal.place, proposal.point)
    draft.change({ condition, observation, disposition: proposal.disposition || v.disposition, ...heard })
    spoken.putAway()
  }
  const save = async () => {
    const { observation, condition, opinion, disposition, ...source } = v
    const finding = { observation: observation.trim(), condition, opinion: opinion.trim(), disposition }
    if (ready && (await attempt(() => find(at, finding, source), say('common.saved')))) await draft.done()
  }
  return (
    <Screen
      title={say('finding.title', { place: nameOfPlace(job, at.place, at.point) })}
      job={job}
      acts={
        <>
          {spoken.phase === 'proposed' ? (
            <SpokenActs spoken={spoken} ready={Boolean(proposal?.conditions.length || proposal?.disposition)} busy={busy} name={say('finding.use')} onRecord={use} />
          ) : (
            <FindingActs ready={ready} busy={busy} onSave={() => void save()} />
          )}
          <TalkAct spoken={spoken} />
        </>
      }
      under={<SpokenFinding job={job} spoken={spoken} />}
    >
      <FindingForm place={at.place} draft={draft} />
      <StatusMessage words={message.words} wrong={message.wrong} />
    </Screen>
  )
}

function FindingForm({ place, draft }: { place: string; draft: Draft }) {
  const v = draft.value
  return (
    <div class="form">
      <Field
        label={say('common.observation')}
        value={v.observation}
        onValue={(observation) => draft.change({ observation })}
        lines={3}
        needed
        hint={say('finding.observation_hint')}
      />
      <Conditions place={place} draft={draft} />
      <Choice label={say('finding.disposition')} options={DISPOSITIONS} chosen={[v.disposition]} onChoose={(code) => draft.change({ disposition: code === v.disposition ? '' : code })} />
      {v.spoken && <Heard words={v.heard} />}
      <div class="opinion">
        <Field
          label={say('common.opinion')}
          value={v.opinion}
          onValue={(opinion) => draft.change({ opinion })}
          lines={2}
          hint={say('finding.opinion_hint')}
        />
      </div>
    </div>
  )
}

/** The condition words of a part, the usual ones first; the list of the rest ends with a word of one's own. */
function Conditions({ place, draft }: { place: string; draft: Draft }) {
  const { condition } = draft.value
  const [all, setAll] = useState(false)
  const [own, setOwn] = useState('')
  const listed = conditionsFor(place)
  const offered = [...new Set([...condition, ...(all ? listed : listed.slice(0, FIRST))])]
  const turn = (word: string) => draft.change({ condition: condition.includes(word) ? condition.filter((w) => w !== word) : [...condition, word] })
  return (
    <>
      <Choice label={say('finding.condition')} options={offered.map((word) => ({ value: word, words: word }))} chosen={condition} onChoose={turn} many />
      {all ? (
        <div class="own-word">
          <Field label={say('finding.own_word')} value={own} onValue={setOwn} />
          <button
            type="button"
            disabled={!own.trim()}
            onClick={() => {
              if (!condition.includes(own.trim())) turn(own.trim())
              setOwn('')
            }}
          >
            {say('finding.add')}
          </button>
        </div>
      ) : (
        <button type="button" class="plain" onClick={() => setAll(true)}>
          {say('finding.more_words')}
        </button>
      )}
    </>
  )
}

function FindingActs({ ready, busy, onSave }: { ready: boolean; busy: boolean; onSave: () => void }) {
  return (
    <>
      <BackAct />
      <Act name={busy ? say('common.saving') : say('common.save')} main off={busy || !ready} onAct={onSave} />
    </>
  )
}
