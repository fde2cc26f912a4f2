/** `ebbline feeds`: the stored feeds, newest first, a page at a time. */
import { feedsText, pageOf } from '../../app/review/told-text.ts';
import { answer } from '../print-out.ts';
import { type Kept, withStore } from '../with-store.ts';

export interface ListOptions extends Kept {
  page?: number;
  perPage: number;
  discarded?: boolean;
  json?: boolean;
}

/** As JSON all feeds, unless a page is requested. @throws PlainError if the feeds cannot be read, or there is no such page */
export const listCommand = (options: ListOptions): Promise<void> =>
  withStore(options, (store, folder) => {
    const all = store.list({ discarded: options.discarded ?? false });
    const page = pageOf(all, options.page ?? 1, options.perPage);
    const hint = options.simulated ? '' : ' For those of the simulated sleeve add --simulated.';
    return answer(options.json, options.page === undefined ? all : page.feeds, () =>
      all.length === 0 ? `No feeds are kept in ${folder}.${hint}` : feedsText(page),
    );
  });
