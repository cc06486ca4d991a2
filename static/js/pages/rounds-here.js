/** A form that changes the plan: tells the server of rounds counted here that it may not have yet. */

import { loadPair } from "../pair/db.js";

const [, , link] = location.pathname.split("/");

// Private windows of some browsers have no database; then nothing was counted here either.
loadPair(link)
  .then(({ record }) => {
    for (const sock of /** @type {const} */ ([1, 2])) {
      document.querySelector(`[name=round_${sock}]`)?.setAttribute("value", String(record?.round[sock] ?? 0));
    }
  })
  .catch(() => undefined);
