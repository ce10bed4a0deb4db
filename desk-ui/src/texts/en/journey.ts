/** Words of the room. */
export const journey = {};
