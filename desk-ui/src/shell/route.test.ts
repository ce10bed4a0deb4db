import { describe, expect, it } from 'vitest';
import { readPage, readRoute, ROOM_NAMES, writeRoute } from './route';

describe('addresses within the desk', () => {
  it.each(ROOM_NAMES)('lead to the room %s and back', (room) => {
    expect(readRoute(writeRoute(room))).toEqual({ room, place: '' });
    expect(readRoute(writeRoute(room, 'page-6'))).toEqual({ room, place: 'page-6' });
  });

  it.each(['', '#', '#/attic', '#page-6', '#/read/../x', '#/read/<b>'])(
    'that lead nowhere (%j) lead to the flatplan',
    (hash) => expect(readRoute(hash)).toEqual({ room: 'flatplan', place: '' }),
  );

  it.each(['', 'page-', 'page-x', 'page--1', 'page-1234567', '3', 'page-3<b>'])(
    'name no page: %j',
    (place) => expect(readPage(place)).toBeNull(),
  );
});
