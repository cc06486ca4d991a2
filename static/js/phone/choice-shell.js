/** The page that is kept for choices without network. */

import { showChoiceHere } from "./choice-here.js";

showChoiceHere();
