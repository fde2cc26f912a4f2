/** Where the page is, in the part of the address after #. */
import { useEffect, useState } from 'preact/hooks';

export type Route =
  | { page: 'live' }
  | { page: 'before' }
  | { page: 'feeds' }
  | { page: 'feed'; id: string }
  | { page: 'practice' }
  | { page: 'kept' }
  | { page: 'sharing' }
  | { page: 'packing' }
  | { page: 'milk' }
  | { page: 'numbers' };

/** @returns the page that `hash` names; anything unknown is the live page, where a caregiver belongs. */
export function routeOf(hash: string): Route {
  const [page, id] = hash.replace(/^#\/?/, '').split('/');
  if (page === 'packing' || page === 'milk' || page === 'kept') return { page };
  if (page === 'before' || page === 'practice' || page === 'sharing' || page === 'numbers') return { page };
  if (page === 'feeds') return id ? { page: 'feed', id: decodeSafely(id) } : { page: 'feeds' };
  return { page: 'live' };
}

export const addressOf = (route: Route): string =>
  route.page === 'live'
    ? '#/'
    : route.page === 'feed'
      ? `#/feeds/${encodeURIComponent(route.id)}`
      : `#/${route.page}`;

function decodeSafely(text: string): string {
  try {
    return decodeURIComponent(text);
  } catch {
    return text;
  }
}

export function useRoute(): Route {
  const [hash, setHash] = useState(location.hash);
  useEffect(() => {
    const look = () => {
      setHash(location.hash);
      scrollTo(0, 0);
    };
    addEventListener('hashchange', look);
    return () => removeEventListener('hashchange', look);
  }, []);
  return routeOf(hash);
}
