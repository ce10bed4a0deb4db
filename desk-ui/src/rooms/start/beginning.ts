/** What one can begin with, as the server tells it. */
import type { components } from '../../api';
import { ask } from '../../shell/server';

export type Beginning = components['schemas']['Beginning'];
export type Folder = components['schemas']['FolderShown'];
export type Inside = components['schemas']['FolderInside'];
export type NewBook = components['schemas']['NewBook'];

export const fetchBeginning = (): Promise<Beginning> => ask<Beginning>('api/start');

export const lookInside = (folder: Folder): Promise<Inside> =>
  ask<Inside>(`api/start/folders/${folder.handle}`);
