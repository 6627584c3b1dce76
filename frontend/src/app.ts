import "./styles/index.css";
import htmx from "htmx.org";

htmx.config.allowEval = false;
