import { address, route } from './route.ts'
import { JOB_PAGES, OFFICE_PAGES } from './pages.ts'
import { say } from './say.ts'
import { isManager, me, signOut } from './session.ts'
import { SearchBox } from './SearchBox.tsx'
import { theme, wear } from './theme.ts'
import './bar.css'
import './who.css'

interface TabProps {
  to: string[]
  here: boolean
  name: string
  /** A sign before the name. */
  sign?: string
}

function Tab({ to, here, name, sign }: TabProps) {
  return (
    <a href={address(to)} aria-current={here ? 'page' : undefined}>
      {sign && <span aria-hidden="true">{sign} </span>}
      {name}
    </a>
  )
}

/** The strip at the top: the name, the pages, the search box, who is signed in. */
export function Bar({ remark, keys }: { remark: string; keys: () => void }) {
  const [room = 'jobs', job, leaf = 'record'] = route.value.path
  return (
    <header class="bar along">
      <a class="wordmark bold large" href={address(['jobs'])} aria-label={say('frame.wordmark')}>
        witnessmark
      </a>
      {room === 'job' && job ? <JobTabs job={job} leaf={leaf} /> : <OfficeTabs room={room} />}
      <SearchBox />
      <p class="bar-remark to-right">{remark}</p>
      <button type="button" class="bar-key" onClick={keys} aria-label={say('frame.keys_and_help')} title={say('frame.keys_and_help_title')}>
        ?
      </button>
      <Who />
    </header>
  )
}

function JobTabs({ job, leaf }: { job: string; leaf: string }) {
  return (
    <nav class="tabs in-row" aria-label={say('frame.this_job')}>
      <Tab to={['jobs']} here={false} name={say('frame.jobs')} sign="‹" />
      {Object.entries(JOB_PAGES).map(([page, name]) => (
        <Tab key={page} to={page === 'record' ? ['job', job] : ['job', job, page]} here={leaf === page} name={say(name)} />
      ))}
    </nav>
  )
}

function OfficeTabs({ room }: { room: string }) {
  return (
    <nav class="tabs in-row" aria-label={say('frame.office')}>
      {Object.entries(OFFICE_PAGES)
        .filter(([page]) => page !== 'people' || isManager.value)
        .map(([page, name]) => (
          <Tab key={page} to={[page]} here={room === page} name={say(name)} />
        ))}
    </nav>
  )
}

/** Who is signed in, the theme, and the way out. */
function Who() {
  const person = me.value?.person
  if (!person) return null
  const role = person.role === 'manager' ? say('people.manager') : say('people.technician')
  return (
    <>
      <button type="button" class="bar-who one-line" popovertarget="who" aria-label={say('frame.who_button', { name: person.name })}>
        {person.name}
        <svg viewBox="0 0 10 6" width="10" height="6" aria-hidden="true">
          <path d="M0 0h10L5 6Z" fill="currentColor" />
        </svg>
      </button>
      <div id="who" popover="auto" class="who framed">
        <p>
          <b>{person.name}</b>
          <br />
          {say('frame.role_at', { role, workshop: me.value!.workshop.name })}
        </p>
        <fieldset>
          <legend class="legend-row soft tiny">{say('frame.theme')}</legend>
          {([['', say('frame.theme_system')], ['light', say('frame.theme_light')], ['dark', say('frame.theme_dark')]] as const).map(([code, words]) => (
            <label class="along" key={code}>
              <input type="radio" name="theme" checked={theme.value === code} onChange={() => wear(code)} />
              {words}
            </label>
          ))}
        </fieldset>
        <button class="whole" type="button" onClick={signOut}>
          {say('frame.sign_out')}
        </button>
      </div>
    </>
  )
}
