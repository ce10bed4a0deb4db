/** Words of the room. */
export const spread = {};
