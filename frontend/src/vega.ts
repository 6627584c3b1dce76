/** The drawing library, in a file of its own: only pages with a chart load it. */

import embed from "vega-embed";
import { expressionInterpreter } from "vega-interpreter";

export { embed, expressionInterpreter };
