/** Which page is open: the part of the address after #. */
import { useEffect, useState } from 'preact/hooks';

export type Route =
  | { page: 'live' }
  | { page: 'before' }
  | { page: 'baby'; id: string | null }
  | { page: 'feeds' }
  | { page: 'feed'; id: string }
  | { page: 'days'; day?: string }
  | { page: 'week'; day?: string }
  | { page: 'write-feed'; day?: string }
  | { page: 'after'; id: string }
  | { page: 'alone'; id: string }
  | { page: 'compare'; first: string; second: string }
  | { page: 'practice' }
  | { page: 'kept' }
  | { page: 'sharing' }
  | { page: 'packing' }
  | { page: 'milk' }
  | { page: 'numbers' }
  | { page: 'studies' }
  | { page: 'study'; code: string };

/** @returns the page for `hash`; for an unknown one the live page, which a caregiver needs */
export function routeOf(hash: string): Route {
  const [page, id, other] = hash.replace(/^#\/?/, '').split('/');
  if (page === 'packing' || page === 'milk' || page === 'kept') return { page };
  if (page === 'before' || page === 'practice' || page === 'sharing' || page === 'numbers') return { page };
  if ((page === 'after' || page === 'alone') && id) return { page, id: decodeSafely(id) };
  if (page === 'baby') return { page, id: id ? decodeSafely(id) : null };
  if (page === 'days' || page === 'week' || page === 'write-feed')
    return id ? { page, day: decodeSafely(id) } : { page };
  if (page === 'compare' && id && other)
    return { page, first: decodeSafely(id), second: decodeSafely(other) };
  if (page === 'feeds') return id ? { page: 'feed', id: decodeSafely(id) } : { page: 'feeds' };
  if (page === 'studies') return id ? { page: 'study', code: decodeSafely(id) } : { page };
  return { page: 'live' };
}

export function addressOf(route: Route): string {
  if (route.page === 'live') return '#/';
  if (route.page === 'feed') return `#/feeds/${encodeURIComponent(route.id)}`;
  if (route.page === 'study') return `#/studies/${encodeURIComponent(route.code)}`;
  if (route.page === 'after' || route.page === 'alone')
    return `#/${route.page}/${encodeURIComponent(route.id)}`;
  if (route.page === 'compare')
    return `#/compare/${encodeURIComponent(route.first)}/${encodeURIComponent(route.second)}`;
  if ('day' in route && route.day !== undefined) return `#/${route.page}/${encodeURIComponent(route.day)}`;
  if (route.page === 'baby' && route.id !== null) return `#/baby/${encodeURIComponent(route.id)}`;
  return `#/${route.page}`;
}

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
