/** The spread as the server tells it: mm on each page, from its trim corner, y down. */
import type { components } from '../../api';
import { store } from '../../parts/pages';
import { ask } from '../../shell/server';
import { findDrawing } from '../read/spreads';

type Schemas = components['schemas'];

export type SpreadView = Schemas['SpreadNow'];
export type Frame = Schemas['SpreadFrame'];
export type Kind = Frame['kind'];
/** `crop` and `faces` are in fractions of the upright picture; `whole_box` counts where it lies
 * across, and is in the left page's coordinates. */
export type PictureIn = Schemas['FramePicture'];
export type TextIn = Schemas['FrameWords'];
export type FindingHere = Schemas['SpreadFinding'];
export type LeafWish = Schemas['LeafWish'];

export type OtherPicture = Schemas['OtherPicture'];
export type Way = Schemas['SpreadWay'];
export type Ways = Schemas['SpreadWays'];

export const fetchSpread = (page: number): Promise<SpreadView> =>
  ask<SpreadView>(`api/spread/${page}`);

/** Fetch the pages of a spread as they are drawn in its revision; one that fails says so later. */
export async function fetchPages({ pages, revision }: SpreadView): Promise<void> {
  const drawings = pages.map(({ number, side }) => findDrawing({ number, side, veiled: null }));
  await Promise.allSettled(drawings.map((drawing) => store.get(drawing, revision)));
}

export const fetchWays = (page: number): Promise<Ways> => ask<Ways>(`api/spread/${page}/ways`);

export const fetchOthers = (photo: string): Promise<OtherPicture[]> =>
  ask<OtherPicture[]>(`api/spread/others/${encodeURIComponent(photo)}`);

/** A picture as small as it stands in a row. */
export const addressSmall = ({ photo, content }: OtherPicture): string =>
  `api/pictures/${encodeURIComponent(photo)}/small.jpg?of=${encodeURIComponent(content)}`;

/** Where the picture itself is found, small enough to be moved about. */
export const addressPicture = ({ photo, content }: PictureIn): string =>
  `api/pictures/${encodeURIComponent(photo)}/large.jpg?of=${encodeURIComponent(content)}`;
