// Has the README's snippet estimate each job given as JSON, and prints what it returns, a line for each.
import { estimate } from "./snippet.mjs";

for (const job of JSON.parse(process.argv[2])) console.log(JSON.stringify(await estimate(job)));
