/** The file that is handed on, and the sheet of paper. */
import { inflateSync } from 'node:zlib';
import { parseHTML } from 'linkedom';
import { describe, expect, test } from 'vitest';
import { feedFile } from '../../src/paper/feed/feed-file.ts';
import { feedPdf } from '../../src/paper/feed/feed-pdf.ts';
import { eventfulFeed, fastFeed, gentleFeed, refusedFeed } from '../support/graph-feeds.ts';

const OPTIONS = { volumeUnit: 'fl-oz', timeZone: 'UTC' } as const;

describe('the page to hand on', () => {
  const html = feedFile(gentleFeed(), OPTIONS);
  const { document } = parseHTML(html);

  test('is whole: sentence, graph, cues, table, where the numbers come from, caution', () => {
    expect(document.querySelector('h1')!.textContent).toMatch(/taken in 18 min; milk never ran fast\.$/);
    expect(document.querySelectorAll('svg').length).toBe(1);
    expect(document.querySelectorAll('main ul li').length).toBe(6);
    expect(document.querySelectorAll('tbody tr').length).toBe(19);
    expect(document.querySelector('footer')!.textContent).toMatch(/sleeve bench-1.*Not a medical device/s);
    expect(document.documentElement.getAttribute('lang')).toBe('en');
    expect(feedFile(gentleFeed(), { ...OPTIONS, language: 'es' })).toMatch(
      /<html lang="es">[\s\S]*No es un aparato médico/,
    );
  });

  test('asks nothing of a network, runs nothing, and says so itself', () => {
    expect(html).toContain(`content="default-src 'none'; style-src 'unsafe-inline'"`);
    expect(html).not.toMatch(/<script|<link|<img|<iframe|@import|url\((?!#)|\son\w+=|(?:src|href)=/);
    expect(
      html.replaceAll('http://www.w3.org/2000/svg', '').replaceAll(/http:\/\/www\.w3\.org\/\d+\/xlink/g, ''),
    ).not.toContain('//www');
    expect(html).not.toMatch(/Wren|Juno/);
  });

  test('carries a note of whoever hands it on, as letters and nothing else', () => {
    const noted = feedFile(gentleFeed(), { ...OPTIONS, note: '<img src=x onerror=alert(1)> & more' });
    expect(parseHTML(noted).document.querySelector('.note')!.textContent).toBe(
      '<img src=x onerror=alert(1)> & more',
    );
    expect(noted).not.toContain('<img');
    expect(feedFile(gentleFeed(), OPTIONS)).not.toContain('class="note"');
  });
});

describe('the sheet', () => {
  /** The texts between the operators of the page's streams, unpacked. */
  const streamsOf = (pdf: Buffer): string => {
    const raw = pdf.toString('latin1');
    return [...raw.matchAll(/stream\r?\n/g)]
      .map(({ index }) => {
        try {
          return inflateSync(pdf.subarray(index! + 7)).toString('latin1');
        } catch {
          return '';
        }
      })
      .join('\n');
  };

  test('one page of letter paper, tagged, with a language and a title (ISO 32000-1, 14.8.2, 14.9.2)', async () => {
    for (const feed of [gentleFeed(), fastFeed(), eventfulFeed(), refusedFeed()]) {
      const pdf = await feedPdf(feed, OPTIONS);
      const raw = pdf.toString('latin1');
      const missing = [
        /^%PDF-1\.7/,
        /\/MediaBox \[0 0 612 792\]/,
        /\/Marked true/,
        /\/Lang \(en\)/,
        /\/DisplayDocTitle true/,
        /\/Title /,
        /\/Alt \(/,
        ...['Document', 'H1', 'Figure', 'H2', 'P'].map((tag) => new RegExp(`/S /${tag}\\b`)),
      ].filter((one) => !one.test(raw));
      expect(missing).toEqual([]);
      expect(raw.match(/\/Type \/Page\b/g)).toHaveLength(1);
      // Text is drawn as text, with fonts that are in the file.
      expect(raw.match(/\/FontFile2/g)!.length).toBeGreaterThanOrEqual(2);
      expect(streamsOf(pdf).match(/\bT[jJ]\b/g)!.length).toBeGreaterThan(40);
    }
  });

  test('says plainly what its type cannot write', async () => {
    await expect(feedPdf(gentleFeed(), { ...OPTIONS, note: 'ミルク' })).rejects.toThrow(/has no “ミ”/);
  });
});
