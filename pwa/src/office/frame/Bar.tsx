import type { ComponentChildren } from 'preact'
import { address, route } from './route.ts'
import { isManager, me, signOut } from './session.ts'
import { SearchBox } from './SearchBox.tsx'
import { theme, wear, type Theme } from './theme.ts'

const THEMES: [Theme, string][] = [
  ['', 'as this machine'],
  ['light', 'paper'],
  ['dark', 'night'],
]

function Tab({ to, here, children }: { to: string[]; here: boolean; children: ComponentChildren }) {
  return (
    <a href={address(to)} aria-current={here ? 'page' : undefined}>
      {children}
    </a>
  )
}

/** The strip at the top: the name, where one can go, the search box, who is here. */
export function Bar({ remark, keys }: { remark: string; keys: () => void }) {
  const [room = 'jobs', job, leaf = 'record'] = route.value.path
  return (
    <header class="bar">
      <a class="wordmark" href={address(['jobs'])} aria-label="witnessmark, all jobs">
        witnessmark
      </a>
      {room === 'job' && job ? (
        <nav class="tabs" aria-label="This job">
          <Tab to={['jobs']} here={false}>
            <span aria-hidden="true">‹ </span>Jobs
          </Tab>
          <Tab to={['job', job]} here={leaf === 'record'}>
            Record
          </Tab>
          <Tab to={['job', job, 'figures']} here={leaf === 'figures'}>
            Figures
          </Tab>
          <Tab to={['job', job, 'joints']} here={leaf === 'joints'}>
            Joints
          </Tab>
          <Tab to={['job', job, 'pack']} here={leaf === 'pack'}>
            Pack
          </Tab>
          <Tab to={['job', job, 'facts']} here={leaf === 'facts'}>
            Facts
          </Tab>
        </nav>
      ) : (
        <nav class="tabs" aria-label="Office">
          <Tab to={['jobs']} here={room === 'jobs'}>
            Jobs
          </Tab>
          <Tab to={['spoken']} here={room === 'spoken'}>
            Spoken
          </Tab>
          <Tab to={['engine-types']} here={room === 'engine-types'}>
            Engine types
          </Tab>
          <Tab to={['procedures']} here={room === 'procedures'}>
            Procedures
          </Tab>
          <Tab to={['gauges']} here={room === 'gauges'}>
            Gauges
          </Tab>
          <Tab to={['fits']} here={room === 'fits'}>
            Fits
          </Tab>
          <Tab to={['phones']} here={room === 'phones'}>
            Phones
          </Tab>
          {isManager.value && (
            <Tab to={['people']} here={room === 'people'}>
              People
            </Tab>
          )}
          <Tab to={['about']} here={room === 'about'}>
            About
          </Tab>
        </nav>
      )}
      <SearchBox />
      <p class="bar-remark">{remark}</p>
      <button type="button" class="bar-key" onClick={keys} aria-label="Keys and help" title="Keys and help (?)">
        ?
      </button>
      <button
        type="button"
        class="bar-who"
        popovertarget="who"
        aria-label={`${me.value?.person.name}: sign out, light and dark`}
      >
        {me.value?.person.name}
        <svg viewBox="0 0 10 6" width="10" height="6" aria-hidden="true">
          <path d="M0 0h10L5 6Z" fill="currentColor" />
        </svg>
      </button>
      <div id="who" popover="auto" class="who">
        <p>
          <b>{me.value?.person.name}</b>
          <br />
          {me.value?.person.role} at {me.value?.workshop.name}
        </p>
        <fieldset>
          <legend>Sheet</legend>
          {THEMES.map(([code, words]) => (
            <label key={code}>
              <input type="radio" name="theme" checked={theme.value === code} onChange={() => wear(code)} />
              {words}
            </label>
          ))}
        </fieldset>
        <button type="button" onClick={signOut}>
          Sign out
        </button>
      </div>
    </header>
  )
}
