/** The book to be read, as the server tells it. */
import type { components } from '../../api';
import { ask } from '../../shell/server';

export type View = components['schemas']['View'];
export type Page = components['schemas']['Page'];
export type Spread = components['schemas']['Spread'];

export const fetchView = (): Promise<View> => ask<View>('api/view');
