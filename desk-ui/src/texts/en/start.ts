/** Words of the room. */
export const start = {};
