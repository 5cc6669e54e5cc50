/** All that the Jobs page starts: what `bundled/` is made from, so that a slow line brings one file instead of ninety. */

import "./page.js";
import "../offline/copy-state.js";
import "../find/foot-box.js";
