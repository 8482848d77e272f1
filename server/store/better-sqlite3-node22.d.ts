declare module "better-sqlite3-node22" {
  import Sqlite from "better-sqlite3";
  export default Sqlite;
}
