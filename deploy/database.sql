-- Who may do what in the database: one account changes tables, the other only rows.
--
-- The account that serves can neither take away the triggers of what was recorded nor empty a table;
-- the one that migrates serves nobody. Run it as the server's own account, once, with passwords
-- from a store of secrets; run it again with others to exchange them.
--   psql -v owner_password=... -v site_password=... -v name=studbay -f deploy/database.sql postgres
-- Both end after 90 days unless they are exchanged.
\set ON_ERROR_STOP on

SELECT 'CREATE ROLE studbay_owner LOGIN' WHERE NOT EXISTS (SELECT FROM pg_roles WHERE rolname = 'studbay_owner') \gexec
SELECT 'CREATE ROLE studbay_site LOGIN' WHERE NOT EXISTS (SELECT FROM pg_roles WHERE rolname = 'studbay_site') \gexec
SELECT format('CREATE DATABASE %I OWNER studbay_owner', :'name') WHERE NOT EXISTS (SELECT FROM pg_database WHERE datname = :'name') \gexec

SELECT format('ALTER ROLE studbay_owner NOSUPERUSER NOCREATEDB NOCREATEROLE PASSWORD %L VALID UNTIL %L', :'owner_password', now() + interval '90 days') \gexec
SELECT format('ALTER ROLE studbay_site NOSUPERUSER NOCREATEDB NOCREATEROLE PASSWORD %L VALID UNTIL %L', :'site_password', now() + interval '90 days') \gexec
SELECT format('ALTER DATABASE %I OWNER TO studbay_owner', :'name') \gexec
SELECT format('REVOKE ALL ON DATABASE %I FROM PUBLIC', :'name') \gexec
SELECT format('GRANT CONNECT ON DATABASE %I TO studbay_site', :'name') \gexec

\connect :name
ALTER SCHEMA public OWNER TO studbay_owner;
REVOKE CREATE ON SCHEMA public FROM PUBLIC;
GRANT USAGE ON SCHEMA public TO studbay_site;
-- What is there from before, as what is made from now on.
SELECT format('ALTER %s public.%I OWNER TO studbay_owner', CASE relkind WHEN 'S' THEN 'SEQUENCE' WHEN 'v' THEN 'VIEW' ELSE 'TABLE' END, relname)
  FROM pg_class WHERE relnamespace = 'public'::regnamespace AND relkind IN ('r', 'v', 'p') \gexec
SELECT format('ALTER FUNCTION %s OWNER TO studbay_owner', oid::regprocedure) FROM pg_proc WHERE pronamespace = 'public'::regnamespace AND NOT EXISTS (SELECT FROM pg_depend WHERE objid = pg_proc.oid AND deptype = 'e') \gexec
GRANT SELECT, INSERT, UPDATE, DELETE ON ALL TABLES IN SCHEMA public TO studbay_site;
GRANT USAGE, SELECT ON ALL SEQUENCES IN SCHEMA public TO studbay_site;
ALTER DEFAULT PRIVILEGES FOR ROLE studbay_owner IN SCHEMA public GRANT SELECT, INSERT, UPDATE, DELETE ON TABLES TO studbay_site;
ALTER DEFAULT PRIVILEGES FOR ROLE studbay_owner IN SCHEMA public GRANT USAGE, SELECT ON SEQUENCES TO studbay_site;
