/** Addresses within the desk: "#/spread/page-6" is the room Spread, at page 6. */
export const ROOM_NAMES = [
  'journey',
  'pictures',
  'flatplan',
  'spread',
  'sheets',
  'case',
  'read',
] as const;

export type Room = (typeof ROOM_NAMES)[number];

export interface Route {
  room: Room;
  /** A place within the room; empty for its beginning. */
  place: string;
}

const HASH = /^#\/([a-z]+)(?:\/([A-Za-z0-9._:-]{1,120}))?$/;

/** Where a hash leads; to the room one begins in where it says nothing. */
export function readRoute(hash: string): Route {
  const match = HASH.exec(hash);
  const room = ROOM_NAMES.find((name) => name === match?.[1]);
  return room ? { room, place: match?.[2] ?? '' } : { room: 'flatplan', place: '' };
}

/** The hash that leads there. */
export function writeRoute(room: Room, place = ''): string {
  return place ? `#/${room}/${place}` : `#/${room}`;
}

/** Page number named by a place ("page-6"), if it names one. */
export function readPage(place: string): number | null {
  const match = /^page-(\d{1,6})$/.exec(place);
  return match?.[1] ? Number(match[1]) : null;
}

/** Go there. */
export function go(room: Room, place = ''): void {
  location.hash = writeRoute(room, place);
}

/** Note the place within a room without a step in the browser's history. */
export function stay(room: Room, place: string): void {
  // One may have left it meanwhile.
  if (readRoute(location.hash).room !== room) return;
  history.replaceState(history.state, '', writeRoute(room, place));
}
