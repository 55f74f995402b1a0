/** The worker's entry: the planner behind the worker's own global scope. */
import { type Port, serve } from "./serve.ts";

serve(globalThis as unknown as Port);
