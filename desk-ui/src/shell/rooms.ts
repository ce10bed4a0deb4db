/** The rooms, in the order of the work. Each is fetched when it is entered first. */
import type { Component } from 'svelte';
import type { Room } from './route';

/** What a room is given: the place within it that the address names, as "page-6". */
export interface RoomProps {
  place: string;
}

type Load = () => Promise<{ default: Component<RoomProps> }>;

export const ROOMS: Record<Room, Load> = {
  journey: () => import('../rooms/journey/Journey.svelte'),
  pictures: () => import('../rooms/pictures/Pictures.svelte'),
  flatplan: () => import('../rooms/flatplan/Flatplan.svelte'),
  spread: () => import('../rooms/spread/Spread.svelte'),
  sheets: () => import('../rooms/sheets/Sheets.svelte'),
  case: () => import('../rooms/case/Case.svelte'),
  read: () => import('../rooms/read/Read.svelte'),
};
