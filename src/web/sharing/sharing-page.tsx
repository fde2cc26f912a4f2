/** On the computer that runs Ebbline: lets devices of the home network in, and removes them. */
import { useEffect, useState } from 'preact/hooks';
import type { SharingAnswer } from '../../server/answers.ts';
import type { Right } from '../../server/rights.ts';
import type { Guard } from '../live/guard.ts';
import { getJson, postJson, type Refused } from '../parts/ask.ts';
import { useChoices } from '../parts/choices.tsx';
import { isHostComputer } from '../parts/host-computer.ts';
import { ReadingPage } from '../parts/reading-page.tsx';
import { RefusedNotice } from '../parts/refused-notice.tsx';
import { Qr } from './qr.tsx';
import { SHARING_WORDS } from './sharing-words.ts';

const RIGHTS: readonly Right[] = ['watch', 'help', 'owner'];
/** How often the list of devices is refreshed. */
const LOOK_MS = 1000;
type Order = { do: 'invite'; right: Right } | { do: 'withdraw'; device?: number };

export function SharingPage({ guard }: { guard: Guard }) {
  const words = SHARING_WORDS[useChoices().language];
  const [sharing, setSharing] = useState<SharingAnswer | null>(null);
  const [refused, setRefused] = useState<Refused | null>(null);

  const ask = async (order?: Order) => {
    const answer = await (order
      ? postJson<SharingAnswer>('/sharing', order)
      : getJson<SharingAnswer>('/sharing'));
    setRefused('error' in answer ? answer.error : null);
    if ('answer' in answer) setSharing(answer.answer);
  };
  useEffect(() => {
    if (!isHostComputer()) return;
    void ask();
    const timer = setInterval(() => void ask(), LOOK_MS);
    return () => clearInterval(timer);
  }, []);

  return (
    <ReadingPage title={words.title} page="sharing" guard={guard}>
      <p>{words.intro}</p>
      {!isHostComputer() && <p>{words.notHere}</p>}
      {refused && <RefusedNotice error={refused} />}
      {sharing?.on === false && <p>{words.off}</p>}
      {sharing?.on && (
        <>
          <div role="status">
            {sharing.invitation ? (
              <>
                <p>
                  {words.scan} {words.thatOne} {words.rights[sharing.invitation.right]}.{' '}
                  {words.left(sharing.invitation.leftSec)}
                </p>
                <Qr text={sharing.invitation.address} name={words.codeName} />
              </>
            ) : (
              <p>{words.noCode}</p>
            )}
          </div>
          <p>{words.make}</p>
          {RIGHTS.map((right) => (
            <button type="button" class="strong" key={right} onClick={() => ask({ do: 'invite', right })}>
              {words.rights[right]}
            </button>
          ))}
          <h2>{words.devices}</h2>
          {sharing.devices.length === 0 && <p>{words.none}</p>}
          {sharing.devices.map(({ number, sinceSec, right }) => (
            <div key={number}>
              <p>
                {words.device(number, sinceSec)}: {words.rights[right]}.
              </p>
              <button type="button" onClick={() => ask({ do: 'withdraw', device: number })}>
                {words.putOut(number)}
              </button>
            </div>
          ))}
          <button type="button" onClick={() => ask({ do: 'withdraw' })}>
            {words.withdraw}
          </button>
        </>
      )}
      <p class="soft">{words.plainHttp}</p>
    </ReadingPage>
  );
}
