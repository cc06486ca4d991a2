/** The page of a check's result that is kept for times without network. */

import { showCheckHere } from "./check-here.js";

const link = location.pathname.match(/^\/pair\/([\w-]+)\/check\/result$/)?.[1];
if (link) showCheckHere(link);
