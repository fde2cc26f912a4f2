import { EventEmitter } from 'node:events';
import { Subject } from 'rxjs';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { LiveView } from '../../src/feed/live/live-view.ts';
import { FRESH_MS, HEARTBEAT_MS, LiveStream } from '../../src/server/live-stream.ts';
import { viewOf } from '../support/fake-live.ts';

/** A connection whose other end reads or does not read. */
class FakeResponse extends EventEmitter {
  readonly written: string[] = [];
  full = false;
  ended = false;
  write = (text: string): boolean => {
    this.written.push(text);
    return !this.full;
  };
  end = (): this => {
    this.ended = true;
    return this;
  };
  get views(): LiveView[] {
    return this.written
      .filter((text) => text.startsWith('data: '))
      .map((text) => JSON.parse(text.slice('data: '.length)) as LiveView);
  }
}

describe('LiveStream', () => {
  let nowMs = 0;
  let views: Subject<LiveView>;
  let stream: LiveStream<LiveView>;
  const join = () => {
    const response = new FakeResponse();
    stream.join(response as never);
    return response;
  };

  beforeEach(() => {
    vi.useFakeTimers();
    nowMs = 0;
    views = new Subject();
    stream = new LiveStream(views, { nowMs: () => nowMs });
  });
  afterEach(() => {
    stream.close();
    vi.useRealTimers();
  });

  it('gives the current view at once, after the retry time', () => {
    views.next(viewOf({ showing: 'burp' }));
    const page = join();
    expect(page.written[0]).toBe('retry: 1000\n\n');
    expect(page.views).toEqual([viewOf({ showing: 'burp' })]);
    expect(page.written[1]).toMatch(/^data: .*\n\n$/);
  });

  it('gives no view that is stale: a silent source must not look alive', () => {
    views.next(viewOf());
    nowMs = FRESH_MS;
    expect(join().views).toEqual([]);
  });

  it('never repeats a view by itself', () => {
    views.next(viewOf());
    const page = join();
    vi.advanceTimersByTime(60_000);
    expect(page.views).toHaveLength(1);
    expect(page.written.filter((text) => text.startsWith(':'))).toHaveLength(60_000 / HEARTBEAT_MS);
  });

  it('gives a slow page the newest view only, once it reads again', () => {
    const page = join();
    page.full = true;
    for (let step = 0; step < 50; step++) views.next(viewOf({ feedElapsedSec: step }));
    vi.advanceTimersByTime(HEARTBEAT_MS);
    expect(page.views.map((view) => view.feedElapsedSec)).toEqual([0]);
    page.full = false;
    page.emit('drain');
    views.next(viewOf({ feedElapsedSec: 50 }));
    expect(page.views.map((view) => view.feedElapsedSec)).toEqual([0, 49, 50]);
  });

  it('a slow page does not hold up another', () => {
    const slow = join();
    slow.full = true;
    const quick = join();
    for (let step = 0; step < 5; step++) views.next(viewOf({ feedElapsedSec: step }));
    expect(quick.views).toHaveLength(5);
    expect(slow.views).toHaveLength(1);
  });

  it('forgets a page that went away, and ends the others when it closes', () => {
    const gone = join();
    const here = join();
    gone.emit('close');
    expect(stream.clientCount).toBe(1);
    stream.close();
    expect(here.ended).toBe(true);
    expect(gone.ended).toBe(false);
    views.next(viewOf());
    expect(here.views).toEqual([]);
  });

  it('after its source failed it hands out nothing, and says so', () => {
    stream.close();
    const onError = vi.fn();
    const failing = new Subject<LiveView>();
    stream = new LiveStream(failing, { nowMs: () => nowMs, onError });
    failing.next(viewOf());
    failing.error(new Error('gone'));
    expect(onError).toHaveBeenCalledOnce();
    expect(join().views).toEqual([]);
  });
});
