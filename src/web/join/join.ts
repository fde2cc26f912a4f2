/**
 * A device of the home network signs in with the code after # in its address. Only a touch sends it, so that a program which
 * previews the link does not use up the code.
 */
import { JOIN_WORDS } from './join-words.ts';

const language = navigator.language.toLowerCase().startsWith('es') ? 'es' : 'en';
const words = JOIN_WORDS[language];
const part = <T extends HTMLElement>(id: string): T => document.getElementById(id) as T;
const say = part('say');
const button = part<HTMLButtonElement>('join');
const code = location.hash.slice(1);

async function join(): Promise<void> {
  button.disabled = true;
  try {
    const answer = await fetch('/join', {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify({ code }),
    });
    if (answer.ok) location.replace('/');
    else {
      say.textContent = words.refused;
      button.hidden = true;
    }
  } catch {
    say.textContent = words.unreached;
    button.disabled = false;
  }
}

document.documentElement.lang = language;
if (matchMedia('(prefers-color-scheme: dark)').matches) document.documentElement.dataset.tone = 'dark';
part('title').textContent = code ? words.title : 'Ebbline';
say.textContent = code ? words.ask : words.noCode;
button.textContent = words.join;
button.hidden = code === '';
button.addEventListener('click', join);
// Scanning another code while the page is open changes only the part after #.
addEventListener('hashchange', () => location.reload());
