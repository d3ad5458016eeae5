-- The tables of a ledger with PostgreSQL after all migrations. Written by a test; see DEVELOPERS.md.

CREATE FUNCTION ledger_day(iso text) RETURNS date;

CREATE FUNCTION ledger_instant(ms bigint) RETURNS timestamp with time zone;

CREATE FUNCTION plant_clock(ms bigint, zone text) RETURNS timestamp without time zone;

CREATE FUNCTION refuse_change() RETURNS trigger;

CREATE TABLE advice (
    plant text COLLATE "C" NOT NULL,
    as_of text COLLATE "C" NOT NULL,
    model_version text COLLATE "C" NOT NULL,
    inputs_version text COLLATE "C" NOT NULL,
    seed bigint NOT NULL,
    issued_ms bigint NOT NULL,
    body text COLLATE "C" NOT NULL
);

ALTER TABLE advice ADD CONSTRAINT advice_pkey PRIMARY KEY (plant, as_of, model_version, inputs_version, seed);

CREATE TRIGGER advice_stays BEFORE DELETE OR UPDATE OR TRUNCATE ON public.advice FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

CREATE VIEW advice_in_force (
    plant text COLLATE "C",
    plant_name text COLLATE "C",
    seed bigint,
    as_of date,
    status text,
    quality text,
    usable_stock_l15 double precision,
    usable_stock_sigma_l15 double precision,
    burn_l15_per_day double precision,
    days_of_cover_to_reserve bigint,
    days_of_cover_to_empty bigint,
    reserve_l15 double precision,
    reserve_date_p50 date,
    dry_date_p50 date,
    must_last_until date,
    order_by date,
    route text,
    window_name text,
    lot_l15 double precision,
    short_l15 double precision,
    short_from date,
    model_version text COLLATE "C",
    inputs_version text COLLATE "C",
    issued timestamp with time zone,
    issued_plant timestamp without time zone,
    revision bigint
);

CREATE TABLE capacity_points (
    tank_key text COLLATE "C" NOT NULL,
    point bigint NOT NULL,
    depth_mm double precision NOT NULL,
    volume_l double precision NOT NULL
);

ALTER TABLE capacity_points ADD CONSTRAINT capacity_points_pkey PRIMARY KEY (tank_key, point);

ALTER TABLE capacity_points ADD CONSTRAINT capacity_points_tank_key_fkey FOREIGN KEY (tank_key) REFERENCES tanks(key) DEFERRABLE INITIALLY DEFERRED;

CREATE TRIGGER capacity_points_stay BEFORE DELETE OR UPDATE OR TRUNCATE ON public.capacity_points FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

CREATE TABLE clearances (
    key text COLLATE "C" NOT NULL,
    replaces text COLLATE "C",
    void boolean NOT NULL,
    who text COLLATE "C" NOT NULL,
    why text COLLATE "C" NOT NULL,
    plant text COLLATE "C" NOT NULL,
    order_id text COLLATE "C" NOT NULL,
    name text COLLATE "C" NOT NULL,
    last_safe_on text COLLATE "C",
    takes_days bigint,
    cleared_on text COLLATE "C",
    given_by text COLLATE "C" NOT NULL,
    note text COLLATE "C" NOT NULL,
    digest text COLLATE "C" NOT NULL,
    recorded_ms bigint NOT NULL,
    position bigint NOT NULL
);

ALTER TABLE clearances ADD CONSTRAINT clearances_pkey PRIMARY KEY (key);

ALTER TABLE clearances ADD CONSTRAINT clearances_replaces_fkey FOREIGN KEY (replaces) REFERENCES clearances(key) DEFERRABLE INITIALLY DEFERRED;

CREATE INDEX clearances_identity ON public.clearances USING btree (plant, order_id, name);

CREATE UNIQUE INDEX clearances_position ON public.clearances USING btree ("position");

CREATE UNIQUE INDEX clearances_replaces ON public.clearances USING btree (replaces) WHERE (replaces IS NOT NULL);

CREATE TRIGGER clearances_stay BEFORE DELETE OR UPDATE OR TRUNCATE ON public.clearances FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

CREATE VIEW clearances_in_force (
    plant text COLLATE "C",
    plant_name text COLLATE "C",
    order_id text COLLATE "C",
    clearance text COLLATE "C",
    last_safe_on date,
    takes_days bigint,
    cleared_on date,
    given_by text COLLATE "C",
    note text COLLATE "C",
    key text COLLATE "C",
    who text COLLATE "C",
    why text COLLATE "C",
    recorded timestamp with time zone
);

CREATE TABLE confirmations (
    key text COLLATE "C" NOT NULL,
    replaces text COLLATE "C",
    void boolean NOT NULL,
    who text COLLATE "C" NOT NULL,
    why text COLLATE "C" NOT NULL,
    plant text COLLATE "C" NOT NULL,
    of_kind text COLLATE "C" NOT NULL,
    of_key text COLLATE "C" NOT NULL,
    digest text COLLATE "C" NOT NULL,
    recorded_ms bigint NOT NULL,
    position bigint NOT NULL
);

ALTER TABLE confirmations ADD CONSTRAINT confirmations_pkey PRIMARY KEY (key);

ALTER TABLE confirmations ADD CONSTRAINT confirmations_replaces_fkey FOREIGN KEY (replaces) REFERENCES confirmations(key) DEFERRABLE INITIALLY DEFERRED;

CREATE INDEX confirmations_plant ON public.confirmations USING btree (plant, key);

CREATE UNIQUE INDEX confirmations_position ON public.confirmations USING btree ("position");

CREATE UNIQUE INDEX confirmations_replaces ON public.confirmations USING btree (replaces) WHERE (replaces IS NOT NULL);

CREATE TRIGGER confirmations_stay BEFORE DELETE OR UPDATE OR TRUNCATE ON public.confirmations FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

CREATE VIEW confirmations_in_force (
    plant text COLLATE "C",
    plant_name text COLLATE "C",
    of_kind text COLLATE "C",
    of_key text COLLATE "C",
    key text COLLATE "C",
    who text COLLATE "C",
    why text COLLATE "C",
    recorded timestamp with time zone
);

CREATE TABLE count_corrections (
    key text COLLATE "C" NOT NULL,
    replaces text COLLATE "C",
    void boolean NOT NULL,
    who text COLLATE "C" NOT NULL,
    why text COLLATE "C" NOT NULL,
    plant text COLLATE "C" NOT NULL,
    product text COLLATE "C" NOT NULL,
    last_day text COLLATE "C" NOT NULL,
    volume_l double precision NOT NULL,
    temperature_c double precision,
    basis text COLLATE "C" NOT NULL,
    digest text COLLATE "C" NOT NULL,
    recorded_ms bigint NOT NULL,
    position bigint NOT NULL
);

ALTER TABLE count_corrections ADD CONSTRAINT count_corrections_pkey PRIMARY KEY (key);

ALTER TABLE count_corrections ADD CONSTRAINT count_corrections_replaces_fkey FOREIGN KEY (replaces) REFERENCES count_corrections(key) DEFERRABLE INITIALLY DEFERRED;

CREATE UNIQUE INDEX count_corrections_position ON public.count_corrections USING btree ("position");

CREATE UNIQUE INDEX count_corrections_replaces ON public.count_corrections USING btree (replaces) WHERE (replaces IS NOT NULL);

CREATE INDEX count_corrections_time ON public.count_corrections USING btree (plant, last_day, key);

CREATE TRIGGER count_corrections_stay BEFORE DELETE OR UPDATE OR TRUNCATE ON public.count_corrections FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

CREATE VIEW count_corrections_in_force (
    plant text COLLATE "C",
    plant_name text COLLATE "C",
    product text COLLATE "C",
    day date,
    volume_l double precision,
    temperature_c double precision,
    basis text COLLATE "C",
    key text COLLATE "C",
    who text COLLATE "C",
    why text COLLATE "C",
    recorded timestamp with time zone
);

CREATE TABLE current_advice (
    plant text COLLATE "C" NOT NULL,
    seed bigint NOT NULL,
    as_of text COLLATE "C" NOT NULL,
    model_version text COLLATE "C" NOT NULL,
    inputs_version text COLLATE "C" NOT NULL,
    issued_ms bigint NOT NULL,
    revision bigint NOT NULL,
    ledger_version bigint NOT NULL
);

ALTER TABLE current_advice ADD CONSTRAINT current_advice_pkey PRIMARY KEY (plant, seed);

ALTER TABLE current_advice ADD CONSTRAINT current_advice_plant_as_of_model_version_inputs_version_se_fkey FOREIGN KEY (plant, as_of, model_version, inputs_version, seed) REFERENCES advice(plant, as_of, model_version, inputs_version, seed);

CREATE UNIQUE INDEX current_advice_revision ON public.current_advice USING btree (seed, revision);

CREATE VIEW day_tanks_in_force (
    plant text COLLATE "C",
    plant_name text COLLATE "C",
    tank text COLLATE "C",
    fill_start_l double precision,
    fill_stop_l double precision,
    low_level_l double precision,
    fill_minutes double precision,
    low_level_timer_hours double precision,
    key text COLLATE "C",
    who text COLLATE "C",
    why text COLLATE "C",
    recorded timestamp with time zone
);

CREATE TABLE degree_days (
    key text COLLATE "C" NOT NULL,
    replaces text COLLATE "C",
    void boolean NOT NULL,
    who text COLLATE "C" NOT NULL,
    why text COLLATE "C" NOT NULL,
    climate_group text COLLATE "C" NOT NULL,
    first_day text COLLATE "C" NOT NULL,
    last_day text COLLATE "C" NOT NULL,
    degree_days_c double precision NOT NULL,
    base_c double precision NOT NULL,
    digest text COLLATE "C" NOT NULL,
    recorded_ms bigint NOT NULL,
    position bigint NOT NULL
);

ALTER TABLE degree_days ADD CONSTRAINT degree_days_pkey PRIMARY KEY (key);

ALTER TABLE degree_days ADD CONSTRAINT degree_days_replaces_fkey FOREIGN KEY (replaces) REFERENCES degree_days(key) DEFERRABLE INITIALLY DEFERRED;

CREATE UNIQUE INDEX degree_days_position ON public.degree_days USING btree ("position");

CREATE UNIQUE INDEX degree_days_replaces ON public.degree_days USING btree (replaces) WHERE (replaces IS NOT NULL);

CREATE INDEX degree_days_time ON public.degree_days USING btree (climate_group, last_day, key);

CREATE TRIGGER degree_days_stay BEFORE DELETE OR UPDATE OR TRUNCATE ON public.degree_days FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

CREATE VIEW degree_days_in_force (
    climate_group text COLLATE "C",
    first_day date,
    last_day date,
    degree_days_c double precision,
    base_c double precision,
    key text COLLATE "C",
    who text COLLATE "C",
    why text COLLATE "C",
    recorded timestamp with time zone
);

CREATE TABLE deliveries (
    key text COLLATE "C" NOT NULL,
    replaces text COLLATE "C",
    void boolean NOT NULL,
    who text COLLATE "C" NOT NULL,
    why text COLLATE "C" NOT NULL,
    plant text COLLATE "C" NOT NULL,
    tank text COLLATE "C" NOT NULL,
    at_ms bigint NOT NULL,
    volume_l double precision NOT NULL,
    temperature_c double precision,
    basis text COLLATE "C" NOT NULL,
    order_id text COLLATE "C" NOT NULL,
    document text COLLATE "C" NOT NULL,
    digest text COLLATE "C" NOT NULL,
    recorded_ms bigint NOT NULL,
    product text COLLATE "C" NOT NULL,
    document_l double precision,
    document_temperature_c double precision,
    document_basis text COLLATE "C" NOT NULL,
    meter_l double precision,
    meter_temperature_c double precision,
    meter_basis text COLLATE "C" NOT NULL,
    refused_l double precision,
    price_per_l double precision,
    freight double precision,
    currency text COLLATE "C" NOT NULL,
    position bigint NOT NULL
);

ALTER TABLE deliveries ADD CONSTRAINT deliveries_pkey PRIMARY KEY (key);

ALTER TABLE deliveries ADD CONSTRAINT deliveries_replaces_fkey FOREIGN KEY (replaces) REFERENCES deliveries(key) DEFERRABLE INITIALLY DEFERRED;

CREATE UNIQUE INDEX deliveries_position ON public.deliveries USING btree ("position");

CREATE UNIQUE INDEX deliveries_replaces ON public.deliveries USING btree (replaces) WHERE (replaces IS NOT NULL);

CREATE INDEX deliveries_time ON public.deliveries USING btree (plant, at_ms, key);

CREATE TRIGGER deliveries_stay BEFORE DELETE OR UPDATE OR TRUNCATE ON public.deliveries FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

CREATE VIEW deliveries_in_force (
    plant text COLLATE "C",
    plant_name text COLLATE "C",
    tank text COLLATE "C",
    at timestamp with time zone,
    at_plant timestamp without time zone,
    volume_l double precision,
    temperature_c double precision,
    basis text COLLATE "C",
    order_id text COLLATE "C",
    document text COLLATE "C",
    key text COLLATE "C",
    who text COLLATE "C",
    why text COLLATE "C",
    recorded timestamp with time zone
);

CREATE VIEW delivery_figures_in_force (
    plant text COLLATE "C",
    plant_name text COLLATE "C",
    at timestamp with time zone,
    at_plant timestamp without time zone,
    tank text COLLATE "C",
    document text COLLATE "C",
    product text COLLATE "C",
    document_l double precision,
    document_temperature_c double precision,
    document_basis text COLLATE "C",
    meter_l double precision,
    meter_temperature_c double precision,
    meter_basis text COLLATE "C",
    refused_l double precision,
    price_per_l double precision,
    freight double precision,
    currency text COLLATE "C",
    key text COLLATE "C",
    who text COLLATE "C",
    why text COLLATE "C",
    recorded timestamp with time zone
);

CREATE TABLE draws (
    key text COLLATE "C" NOT NULL,
    replaces text COLLATE "C",
    void boolean NOT NULL,
    who text COLLATE "C" NOT NULL,
    why text COLLATE "C" NOT NULL,
    plant text COLLATE "C" NOT NULL,
    first_day text COLLATE "C" NOT NULL,
    last_day text COLLATE "C" NOT NULL,
    volume_l double precision NOT NULL,
    temperature_c double precision,
    basis text COLLATE "C" NOT NULL,
    purpose text COLLATE "C" NOT NULL,
    digest text COLLATE "C" NOT NULL,
    recorded_ms bigint NOT NULL,
    with_whom text COLLATE "C" NOT NULL,
    position bigint NOT NULL
);

ALTER TABLE draws ADD CONSTRAINT draws_pkey PRIMARY KEY (key);

ALTER TABLE draws ADD CONSTRAINT draws_replaces_fkey FOREIGN KEY (replaces) REFERENCES draws(key) DEFERRABLE INITIALLY DEFERRED;

CREATE UNIQUE INDEX draws_position ON public.draws USING btree ("position");

CREATE UNIQUE INDEX draws_replaces ON public.draws USING btree (replaces) WHERE (replaces IS NOT NULL);

CREATE INDEX draws_time ON public.draws USING btree (plant, last_day, key);

CREATE TRIGGER draws_stay BEFORE DELETE OR UPDATE OR TRUNCATE ON public.draws FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

CREATE VIEW draws_in_force (
    plant text COLLATE "C",
    plant_name text COLLATE "C",
    first_day date,
    last_day date,
    purpose text COLLATE "C",
    volume_l double precision,
    temperature_c double precision,
    basis text COLLATE "C",
    key text COLLATE "C",
    who text COLLATE "C",
    why text COLLATE "C",
    recorded timestamp with time zone
);

CREATE TABLE forecasts (
    plant text COLLATE "C" NOT NULL,
    month text COLLATE "C" NOT NULL,
    origin text COLLATE "C" NOT NULL,
    issued_ms bigint NOT NULL,
    ledger_version bigint NOT NULL,
    model_version text COLLATE "C" NOT NULL,
    inputs_version text COLLATE "C" NOT NULL,
    seed bigint NOT NULL,
    body text COLLATE "C" NOT NULL
);

ALTER TABLE forecasts ADD CONSTRAINT forecasts_pkey PRIMARY KEY (plant, month);

CREATE TRIGGER forecasts_stay BEFORE DELETE OR UPDATE OR TRUNCATE ON public.forecasts FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

CREATE TABLE gaugings (
    key text COLLATE "C" NOT NULL,
    replaces text COLLATE "C",
    void boolean NOT NULL,
    who text COLLATE "C" NOT NULL,
    why text COLLATE "C" NOT NULL,
    plant text COLLATE "C" NOT NULL,
    tank text COLLATE "C" NOT NULL,
    at_ms bigint NOT NULL,
    depth_mm double precision,
    water_mm double precision,
    volume_l double precision,
    temperature_c double precision,
    precision_mm double precision NOT NULL,
    digest text COLLATE "C" NOT NULL,
    recorded_ms bigint NOT NULL,
    moving boolean NOT NULL,
    position bigint NOT NULL,
    gauge text COLLATE "C" NOT NULL,
    ullage_mm double precision
);

ALTER TABLE gaugings ADD CONSTRAINT gaugings_pkey PRIMARY KEY (key);

ALTER TABLE gaugings ADD CONSTRAINT gaugings_replaces_fkey FOREIGN KEY (replaces) REFERENCES gaugings(key) DEFERRABLE INITIALLY DEFERRED;

CREATE UNIQUE INDEX gaugings_position ON public.gaugings USING btree ("position");

CREATE UNIQUE INDEX gaugings_replaces ON public.gaugings USING btree (replaces) WHERE (replaces IS NOT NULL);

CREATE INDEX gaugings_time ON public.gaugings USING btree (plant, at_ms, key);

CREATE TRIGGER gaugings_stay BEFORE DELETE OR UPDATE OR TRUNCATE ON public.gaugings FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

CREATE VIEW gaugings_in_force (
    plant text COLLATE "C",
    plant_name text COLLATE "C",
    tank text COLLATE "C",
    tank_role text COLLATE "C",
    at timestamp with time zone,
    at_plant timestamp without time zone,
    depth_mm double precision,
    water_mm double precision,
    volume_l double precision,
    temperature_c double precision,
    precision_mm double precision,
    key text COLLATE "C",
    who text COLLATE "C",
    why text COLLATE "C",
    recorded timestamp with time zone,
    moving boolean,
    gauge text COLLATE "C",
    ullage_mm double precision
);

CREATE TABLE ledger_changes (
    plant text COLLATE "C" NOT NULL,
    version bigint NOT NULL
);

ALTER TABLE ledger_changes ADD CONSTRAINT ledger_changes_pkey PRIMARY KEY (plant);

CREATE INDEX ledger_changes_version ON public.ledger_changes USING btree (version);

CREATE TABLE ledger_versions (
    version bigint NOT NULL,
    position bigint NOT NULL,
    recorded_ms bigint NOT NULL
);

ALTER TABLE ledger_versions ADD CONSTRAINT ledger_versions_pkey PRIMARY KEY (version);

CREATE INDEX ledger_versions_time ON public.ledger_versions USING btree (recorded_ms, version);

CREATE TRIGGER ledger_versions_stay BEFORE DELETE OR UPDATE OR TRUNCATE ON public.ledger_versions FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

CREATE TABLE load_changes (
    key text COLLATE "C" NOT NULL,
    replaces text COLLATE "C",
    void boolean NOT NULL,
    who text COLLATE "C" NOT NULL,
    why text COLLATE "C" NOT NULL,
    plant text COLLATE "C" NOT NULL,
    from_day text COLLATE "C" NOT NULL,
    until_day text COLLATE "C",
    times double precision,
    added_kw double precision,
    uncertainty_percent double precision,
    cause text COLLATE "C" NOT NULL,
    note text COLLATE "C" NOT NULL,
    digest text COLLATE "C" NOT NULL,
    recorded_ms bigint NOT NULL,
    position bigint NOT NULL
);

ALTER TABLE load_changes ADD CONSTRAINT load_changes_pkey PRIMARY KEY (key);

ALTER TABLE load_changes ADD CONSTRAINT load_changes_replaces_fkey FOREIGN KEY (replaces) REFERENCES load_changes(key) DEFERRABLE INITIALLY DEFERRED;

CREATE UNIQUE INDEX load_changes_position ON public.load_changes USING btree ("position");

CREATE UNIQUE INDEX load_changes_replaces ON public.load_changes USING btree (replaces) WHERE (replaces IS NOT NULL);

CREATE INDEX load_changes_time ON public.load_changes USING btree (plant, from_day, key);

CREATE TRIGGER load_changes_stay BEFORE DELETE OR UPDATE OR TRUNCATE ON public.load_changes FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

CREATE VIEW load_changes_in_force (
    plant text COLLATE "C",
    plant_name text COLLATE "C",
    from_day date,
    until_day date,
    times double precision,
    added_kw double precision,
    uncertainty_percent double precision,
    cause text COLLATE "C",
    note text COLLATE "C",
    key text COLLATE "C",
    who text COLLATE "C",
    why text COLLATE "C",
    recorded timestamp with time zone
);

CREATE TABLE meter_provings (
    key text COLLATE "C" NOT NULL,
    replaces text COLLATE "C",
    void boolean NOT NULL,
    who text COLLATE "C" NOT NULL,
    why text COLLATE "C" NOT NULL,
    plant text COLLATE "C" NOT NULL,
    meter text COLLATE "C" NOT NULL,
    at_ms bigint NOT NULL,
    factor double precision NOT NULL,
    digest text COLLATE "C" NOT NULL,
    recorded_ms bigint NOT NULL,
    position bigint NOT NULL
);

ALTER TABLE meter_provings ADD CONSTRAINT meter_provings_pkey PRIMARY KEY (key);

ALTER TABLE meter_provings ADD CONSTRAINT meter_provings_replaces_fkey FOREIGN KEY (replaces) REFERENCES meter_provings(key) DEFERRABLE INITIALLY DEFERRED;

CREATE UNIQUE INDEX meter_provings_position ON public.meter_provings USING btree ("position");

CREATE UNIQUE INDEX meter_provings_replaces ON public.meter_provings USING btree (replaces) WHERE (replaces IS NOT NULL);

CREATE INDEX meter_provings_time ON public.meter_provings USING btree (plant, at_ms, key);

CREATE TRIGGER meter_provings_stay BEFORE DELETE OR UPDATE OR TRUNCATE ON public.meter_provings FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

CREATE VIEW meter_provings_in_force (
    plant text COLLATE "C",
    plant_name text COLLATE "C",
    at timestamp with time zone,
    at_plant timestamp without time zone,
    meter text COLLATE "C",
    factor double precision,
    key text COLLATE "C",
    who text COLLATE "C",
    why text COLLATE "C",
    recorded timestamp with time zone
);

CREATE TABLE meter_readings (
    key text COLLATE "C" NOT NULL,
    replaces text COLLATE "C",
    void boolean NOT NULL,
    who text COLLATE "C" NOT NULL,
    why text COLLATE "C" NOT NULL,
    plant text COLLATE "C" NOT NULL,
    meter text COLLATE "C" NOT NULL,
    at_ms bigint NOT NULL,
    register double precision NOT NULL,
    temperature_c double precision,
    digest text COLLATE "C" NOT NULL,
    recorded_ms bigint NOT NULL,
    position bigint NOT NULL
);

ALTER TABLE meter_readings ADD CONSTRAINT meter_readings_pkey PRIMARY KEY (key);

ALTER TABLE meter_readings ADD CONSTRAINT meter_readings_replaces_fkey FOREIGN KEY (replaces) REFERENCES meter_readings(key) DEFERRABLE INITIALLY DEFERRED;

CREATE UNIQUE INDEX meter_readings_position ON public.meter_readings USING btree ("position");

CREATE UNIQUE INDEX meter_readings_replaces ON public.meter_readings USING btree (replaces) WHERE (replaces IS NOT NULL);

CREATE INDEX meter_readings_time ON public.meter_readings USING btree (plant, at_ms, key);

CREATE TRIGGER meter_readings_stay BEFORE DELETE OR UPDATE OR TRUNCATE ON public.meter_readings FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

CREATE VIEW meter_readings_in_force (
    plant text COLLATE "C",
    plant_name text COLLATE "C",
    meter text COLLATE "C",
    at timestamp with time zone,
    at_plant timestamp without time zone,
    register_counts double precision,
    litres_per_count double precision,
    temperature_c double precision,
    key text COLLATE "C",
    who text COLLATE "C",
    why text COLLATE "C",
    recorded timestamp with time zone
);

CREATE TABLE meter_swaps (
    key text COLLATE "C" NOT NULL,
    replaces text COLLATE "C",
    void boolean NOT NULL,
    who text COLLATE "C" NOT NULL,
    why text COLLATE "C" NOT NULL,
    plant text COLLATE "C" NOT NULL,
    meter text COLLATE "C" NOT NULL,
    at_ms bigint NOT NULL,
    closing double precision,
    opening double precision,
    digest text COLLATE "C" NOT NULL,
    recorded_ms bigint NOT NULL,
    position bigint NOT NULL
);

ALTER TABLE meter_swaps ADD CONSTRAINT meter_swaps_pkey PRIMARY KEY (key);

ALTER TABLE meter_swaps ADD CONSTRAINT meter_swaps_replaces_fkey FOREIGN KEY (replaces) REFERENCES meter_swaps(key) DEFERRABLE INITIALLY DEFERRED;

CREATE UNIQUE INDEX meter_swaps_position ON public.meter_swaps USING btree ("position");

CREATE UNIQUE INDEX meter_swaps_replaces ON public.meter_swaps USING btree (replaces) WHERE (replaces IS NOT NULL);

CREATE INDEX meter_swaps_time ON public.meter_swaps USING btree (plant, at_ms, key);

CREATE TRIGGER meter_swaps_stay BEFORE DELETE OR UPDATE OR TRUNCATE ON public.meter_swaps FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

CREATE VIEW meter_swaps_in_force (
    plant text COLLATE "C",
    plant_name text COLLATE "C",
    meter text COLLATE "C",
    at timestamp with time zone,
    at_plant timestamp without time zone,
    closing_counts double precision,
    opening_counts double precision,
    litres_per_count double precision,
    key text COLLATE "C",
    who text COLLATE "C",
    why text COLLATE "C",
    recorded timestamp with time zone
);

CREATE TABLE meters (
    key text COLLATE "C" NOT NULL,
    replaces text COLLATE "C",
    void boolean NOT NULL,
    who text COLLATE "C" NOT NULL,
    why text COLLATE "C" NOT NULL,
    plant text COLLATE "C" NOT NULL,
    id text COLLATE "C" NOT NULL,
    digits bigint NOT NULL,
    litres_per_count double precision NOT NULL,
    factor double precision NOT NULL,
    compensated boolean NOT NULL,
    digest text COLLATE "C" NOT NULL,
    recorded_ms bigint NOT NULL,
    position bigint NOT NULL
);

ALTER TABLE meters ADD CONSTRAINT meters_pkey PRIMARY KEY (key);

ALTER TABLE meters ADD CONSTRAINT meters_replaces_fkey FOREIGN KEY (replaces) REFERENCES meters(key) DEFERRABLE INITIALLY DEFERRED;

CREATE INDEX meters_identity ON public.meters USING btree (plant, id);

CREATE UNIQUE INDEX meters_position ON public.meters USING btree ("position");

CREATE UNIQUE INDEX meters_replaces ON public.meters USING btree (replaces) WHERE (replaces IS NOT NULL);

CREATE TRIGGER meters_stay BEFORE DELETE OR UPDATE OR TRUNCATE ON public.meters FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

CREATE VIEW meters_in_force (
    plant text COLLATE "C",
    plant_name text COLLATE "C",
    meter text COLLATE "C",
    digits bigint,
    litres_per_count double precision,
    factor double precision,
    compensated boolean,
    key text COLLATE "C",
    who text COLLATE "C",
    why text COLLATE "C",
    recorded timestamp with time zone
);

CREATE TABLE orders (
    key text COLLATE "C" NOT NULL,
    replaces text COLLATE "C",
    void boolean NOT NULL,
    who text COLLATE "C" NOT NULL,
    why text COLLATE "C" NOT NULL,
    plant text COLLATE "C" NOT NULL,
    id text COLLATE "C" NOT NULL,
    route text COLLATE "C" NOT NULL,
    state text COLLATE "C" NOT NULL,
    ordered_on text COLLATE "C" NOT NULL,
    early text COLLATE "C" NOT NULL,
    likely text COLLATE "C" NOT NULL,
    late text COLLATE "C" NOT NULL,
    volume_l double precision NOT NULL,
    temperature_c double precision,
    basis text COLLATE "C" NOT NULL,
    digest text COLLATE "C" NOT NULL,
    recorded_ms bigint NOT NULL,
    position bigint NOT NULL,
    state_at_ms bigint,
    order_by text COLLATE "C"
);

ALTER TABLE orders ADD CONSTRAINT orders_pkey PRIMARY KEY (key);

ALTER TABLE orders ADD CONSTRAINT orders_replaces_fkey FOREIGN KEY (replaces) REFERENCES orders(key) DEFERRABLE INITIALLY DEFERRED;

CREATE INDEX orders_identity ON public.orders USING btree (plant, id);

CREATE UNIQUE INDEX orders_position ON public.orders USING btree ("position");

CREATE UNIQUE INDEX orders_replaces ON public.orders USING btree (replaces) WHERE (replaces IS NOT NULL);

CREATE INDEX orders_time ON public.orders USING btree (plant, ordered_on, key);

CREATE TRIGGER orders_stay BEFORE DELETE OR UPDATE OR TRUNCATE ON public.orders FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

CREATE VIEW orders_in_force (
    plant text COLLATE "C",
    plant_name text COLLATE "C",
    order_id text COLLATE "C",
    route text COLLATE "C",
    state text COLLATE "C",
    ordered_on date,
    early date,
    likely date,
    late date,
    volume_l double precision,
    temperature_c double precision,
    basis text COLLATE "C",
    key text COLLATE "C",
    who text COLLATE "C",
    why text COLLATE "C",
    recorded timestamp with time zone,
    state_at timestamp with time zone,
    order_by date
);

CREATE TABLE past_windows (
    key text COLLATE "C" NOT NULL,
    replaces text COLLATE "C",
    void boolean NOT NULL,
    who text COLLATE "C" NOT NULL,
    why text COLLATE "C" NOT NULL,
    route text COLLATE "C" NOT NULL,
    name text COLLATE "C" NOT NULL,
    year bigint NOT NULL,
    opens text COLLATE "C",
    closes text COLLATE "C",
    failed boolean NOT NULL,
    digest text COLLATE "C" NOT NULL,
    recorded_ms bigint NOT NULL,
    position bigint NOT NULL
);

ALTER TABLE past_windows ADD CONSTRAINT past_windows_pkey PRIMARY KEY (key);

ALTER TABLE past_windows ADD CONSTRAINT past_windows_replaces_fkey FOREIGN KEY (replaces) REFERENCES past_windows(key) DEFERRABLE INITIALLY DEFERRED;

CREATE INDEX past_windows_identity ON public.past_windows USING btree (route, name, year);

CREATE UNIQUE INDEX past_windows_position ON public.past_windows USING btree ("position");

CREATE UNIQUE INDEX past_windows_replaces ON public.past_windows USING btree (replaces) WHERE (replaces IS NOT NULL);

CREATE TRIGGER past_windows_stay BEFORE DELETE OR UPDATE OR TRUNCATE ON public.past_windows FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

CREATE VIEW past_windows_in_force (
    route text COLLATE "C",
    window_name text COLLATE "C",
    year bigint,
    opens date,
    closes date,
    failed boolean,
    key text COLLATE "C",
    who text COLLATE "C",
    why text COLLATE "C",
    recorded timestamp with time zone
);

CREATE TABLE period_totals (
    key text COLLATE "C" NOT NULL,
    replaces text COLLATE "C",
    void boolean NOT NULL,
    who text COLLATE "C" NOT NULL,
    why text COLLATE "C" NOT NULL,
    plant text COLLATE "C" NOT NULL,
    first_day text COLLATE "C" NOT NULL,
    last_day text COLLATE "C" NOT NULL,
    volume_l double precision NOT NULL,
    temperature_c double precision,
    basis text COLLATE "C" NOT NULL,
    digest text COLLATE "C" NOT NULL,
    recorded_ms bigint NOT NULL,
    energy_kwh double precision,
    position bigint NOT NULL
);

ALTER TABLE period_totals ADD CONSTRAINT period_totals_pkey PRIMARY KEY (key);

ALTER TABLE period_totals ADD CONSTRAINT period_totals_replaces_fkey FOREIGN KEY (replaces) REFERENCES period_totals(key) DEFERRABLE INITIALLY DEFERRED;

CREATE UNIQUE INDEX period_totals_position ON public.period_totals USING btree ("position");

CREATE UNIQUE INDEX period_totals_replaces ON public.period_totals USING btree (replaces) WHERE (replaces IS NOT NULL);

CREATE INDEX period_totals_time ON public.period_totals USING btree (plant, last_day, key);

CREATE TRIGGER period_totals_stay BEFORE DELETE OR UPDATE OR TRUNCATE ON public.period_totals FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

CREATE VIEW period_totals_in_force (
    plant text COLLATE "C",
    plant_name text COLLATE "C",
    first_day date,
    last_day date,
    volume_l double precision,
    temperature_c double precision,
    basis text COLLATE "C",
    key text COLLATE "C",
    who text COLLATE "C",
    why text COLLATE "C",
    recorded timestamp with time zone
);

CREATE VIEW plant_rules_in_force (
    plant text COLLATE "C",
    plant_name text COLLATE "C",
    reserve_l15 double precision,
    reserve_days bigint,
    reserve_months double precision,
    reserve_percent double precision,
    risk_target double precision,
    fallback_at_days bigint,
    carrying_per_year double precision,
    key text COLLATE "C",
    who text COLLATE "C",
    why text COLLATE "C",
    recorded timestamp with time zone
);

CREATE TABLE plants (
    key text COLLATE "C" NOT NULL,
    replaces text COLLATE "C",
    void boolean NOT NULL,
    who text COLLATE "C" NOT NULL,
    why text COLLATE "C" NOT NULL,
    id text COLLATE "C" NOT NULL,
    name text COLLATE "C" NOT NULL,
    climate_group text COLLATE "C" NOT NULL,
    zone text COLLATE "C" NOT NULL,
    product text COLLATE "C" NOT NULL,
    density15_kgm3 double precision,
    reserve_l15 double precision,
    reserve_days bigint,
    risk_target double precision,
    assumed_temperature_c double precision,
    warm_to_c double precision,
    display_volume text COLLATE "C" NOT NULL,
    display_depth text COLLATE "C" NOT NULL,
    display_temperature text COLLATE "C" NOT NULL,
    fiscal_year_begins bigint NOT NULL,
    digest text COLLATE "C" NOT NULL,
    recorded_ms bigint NOT NULL,
    low_level_timer_hours double precision,
    position bigint NOT NULL,
    reserve_months double precision,
    reserve_percent double precision,
    carrying_per_year double precision,
    fallback_at_days bigint
);

ALTER TABLE plants ADD CONSTRAINT plants_pkey PRIMARY KEY (key);

ALTER TABLE plants ADD CONSTRAINT plants_replaces_fkey FOREIGN KEY (replaces) REFERENCES plants(key) DEFERRABLE INITIALLY DEFERRED;

CREATE INDEX plants_identity ON public.plants USING btree (id);

CREATE UNIQUE INDEX plants_position ON public.plants USING btree ("position");

CREATE UNIQUE INDEX plants_replaces ON public.plants USING btree (replaces) WHERE (replaces IS NOT NULL);

CREATE TRIGGER plants_stay BEFORE DELETE OR UPDATE OR TRUNCATE ON public.plants FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

CREATE VIEW plants_in_force (
    plant text COLLATE "C",
    name text COLLATE "C",
    climate_group text COLLATE "C",
    zone text COLLATE "C",
    product text COLLATE "C",
    density15_kgm3 double precision,
    reserve_l15 double precision,
    reserve_days bigint,
    risk_target double precision,
    assumed_temperature_c double precision,
    warm_to_c double precision,
    fiscal_year_begins_month bigint,
    key text COLLATE "C",
    who text COLLATE "C",
    why text COLLATE "C",
    recorded timestamp with time zone
);

CREATE TABLE product_changes (
    key text COLLATE "C" NOT NULL,
    replaces text COLLATE "C",
    void boolean NOT NULL,
    who text COLLATE "C" NOT NULL,
    why text COLLATE "C" NOT NULL,
    plant text COLLATE "C" NOT NULL,
    tank text COLLATE "C" NOT NULL,
    at_ms bigint NOT NULL,
    product text COLLATE "C" NOT NULL,
    digest text COLLATE "C" NOT NULL,
    recorded_ms bigint NOT NULL,
    position bigint NOT NULL
);

ALTER TABLE product_changes ADD CONSTRAINT product_changes_pkey PRIMARY KEY (key);

ALTER TABLE product_changes ADD CONSTRAINT product_changes_replaces_fkey FOREIGN KEY (replaces) REFERENCES product_changes(key) DEFERRABLE INITIALLY DEFERRED;

CREATE UNIQUE INDEX product_changes_position ON public.product_changes USING btree ("position");

CREATE UNIQUE INDEX product_changes_replaces ON public.product_changes USING btree (replaces) WHERE (replaces IS NOT NULL);

CREATE INDEX product_changes_time ON public.product_changes USING btree (plant, at_ms, key);

CREATE TRIGGER product_changes_stay BEFORE DELETE OR UPDATE OR TRUNCATE ON public.product_changes FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

CREATE VIEW product_changes_in_force (
    plant text COLLATE "C",
    plant_name text COLLATE "C",
    at timestamp with time zone,
    at_plant timestamp without time zone,
    tank text COLLATE "C",
    product text COLLATE "C",
    key text COLLATE "C",
    who text COLLATE "C",
    why text COLLATE "C",
    recorded timestamp with time zone
);

CREATE TABLE reports (
    key text COLLATE "C" NOT NULL,
    digest text COLLATE "C" NOT NULL,
    recorded_ms bigint NOT NULL
);

ALTER TABLE reports ADD CONSTRAINT reports_pkey PRIMARY KEY (key);

CREATE TRIGGER reports_stay BEFORE DELETE OR UPDATE OR TRUNCATE ON public.reports FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

CREATE TABLE rounds (
    key text COLLATE "C" NOT NULL,
    replaces text COLLATE "C",
    void boolean NOT NULL,
    who text COLLATE "C" NOT NULL,
    why text COLLATE "C" NOT NULL,
    plant text COLLATE "C" NOT NULL,
    at_ms bigint NOT NULL,
    filter_bowl text COLLATE "C" NOT NULL,
    alarms text COLLATE "C" NOT NULL,
    pump_running boolean,
    running_hours double precision,
    energy_register_kwh double precision,
    note text COLLATE "C" NOT NULL,
    digest text COLLATE "C" NOT NULL,
    recorded_ms bigint NOT NULL,
    position bigint NOT NULL
);

ALTER TABLE rounds ADD CONSTRAINT rounds_pkey PRIMARY KEY (key);

ALTER TABLE rounds ADD CONSTRAINT rounds_replaces_fkey FOREIGN KEY (replaces) REFERENCES rounds(key) DEFERRABLE INITIALLY DEFERRED;

CREATE UNIQUE INDEX rounds_position ON public.rounds USING btree ("position");

CREATE UNIQUE INDEX rounds_replaces ON public.rounds USING btree (replaces) WHERE (replaces IS NOT NULL);

CREATE INDEX rounds_time ON public.rounds USING btree (plant, at_ms, key);

CREATE TRIGGER rounds_stay BEFORE DELETE OR UPDATE OR TRUNCATE ON public.rounds FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

CREATE VIEW rounds_in_force (
    plant text COLLATE "C",
    plant_name text COLLATE "C",
    at timestamp with time zone,
    at_plant timestamp without time zone,
    filter_bowl text COLLATE "C",
    alarms text COLLATE "C",
    pump_running boolean,
    running_hours double precision,
    energy_register_kwh double precision,
    note text COLLATE "C",
    key text COLLATE "C",
    who text COLLATE "C",
    why text COLLATE "C",
    recorded timestamp with time zone
);

CREATE TABLE routes (
    key text COLLATE "C" NOT NULL,
    replaces text COLLATE "C",
    void boolean NOT NULL,
    who text COLLATE "C" NOT NULL,
    why text COLLATE "C" NOT NULL,
    id text COLLATE "C" NOT NULL,
    mode text COLLATE "C" NOT NULL,
    supplier text COLLATE "C" NOT NULL,
    fallback boolean NOT NULL,
    lead_days double precision NOT NULL,
    lead_sd_days double precision NOT NULL,
    slip_days double precision NOT NULL,
    slip_sd_days double precision NOT NULL,
    lot_min_l15 double precision NOT NULL,
    lot_max_l15 double precision NOT NULL,
    lot_step_l15 double precision NOT NULL,
    price_per_l15 double precision NOT NULL,
    currency text COLLATE "C" NOT NULL,
    digest text COLLATE "C" NOT NULL,
    recorded_ms bigint NOT NULL,
    position bigint NOT NULL,
    load_l15 double precision NOT NULL,
    stop_cost double precision NOT NULL,
    freight_per_l15 double precision NOT NULL,
    price_growth_per_year double precision NOT NULL,
    price_sd_per_year double precision NOT NULL,
    deliveries bigint NOT NULL,
    days_between bigint NOT NULL,
    pay_from text COLLATE "C" NOT NULL,
    pay_days bigint NOT NULL
);

ALTER TABLE routes ADD CONSTRAINT routes_pkey PRIMARY KEY (key);

ALTER TABLE routes ADD CONSTRAINT routes_replaces_fkey FOREIGN KEY (replaces) REFERENCES routes(key) DEFERRABLE INITIALLY DEFERRED;

CREATE INDEX routes_identity ON public.routes USING btree (id);

CREATE UNIQUE INDEX routes_position ON public.routes USING btree ("position");

CREATE UNIQUE INDEX routes_replaces ON public.routes USING btree (replaces) WHERE (replaces IS NOT NULL);

CREATE TRIGGER routes_stay BEFORE DELETE OR UPDATE OR TRUNCATE ON public.routes FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

CREATE VIEW routes_in_force (
    route text COLLATE "C",
    mode text COLLATE "C",
    supplier text COLLATE "C",
    fallback boolean,
    lead_days double precision,
    lead_sd_days double precision,
    slip_days double precision,
    slip_sd_days double precision,
    lot_min_l15 double precision,
    lot_max_l15 double precision,
    lot_step_l15 double precision,
    price_per_l15 double precision,
    currency text COLLATE "C",
    key text COLLATE "C",
    who text COLLATE "C",
    why text COLLATE "C",
    recorded timestamp with time zone,
    load_l15 double precision,
    stop_cost double precision,
    freight_per_l15 double precision,
    price_growth_per_year double precision,
    price_sd_per_year double precision,
    deliveries bigint,
    days_between bigint,
    pay_from text COLLATE "C",
    pay_days bigint
);

CREATE TABLE services (
    key text COLLATE "C" NOT NULL,
    replaces text COLLATE "C",
    void boolean NOT NULL,
    who text COLLATE "C" NOT NULL,
    why text COLLATE "C" NOT NULL,
    plant text COLLATE "C" NOT NULL,
    route text COLLATE "C" NOT NULL,
    digest text COLLATE "C" NOT NULL,
    recorded_ms bigint NOT NULL,
    position bigint NOT NULL
);

ALTER TABLE services ADD CONSTRAINT services_pkey PRIMARY KEY (key);

ALTER TABLE services ADD CONSTRAINT services_replaces_fkey FOREIGN KEY (replaces) REFERENCES services(key) DEFERRABLE INITIALLY DEFERRED;

CREATE INDEX services_identity ON public.services USING btree (plant, route);

CREATE UNIQUE INDEX services_position ON public.services USING btree ("position");

CREATE UNIQUE INDEX services_replaces ON public.services USING btree (replaces) WHERE (replaces IS NOT NULL);

CREATE TRIGGER services_stay BEFORE DELETE OR UPDATE OR TRUNCATE ON public.services FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

CREATE VIEW services_in_force (
    plant text COLLATE "C",
    plant_name text COLLATE "C",
    route text COLLATE "C",
    key text COLLATE "C",
    who text COLLATE "C",
    why text COLLATE "C",
    recorded timestamp with time zone
);

CREATE TABLE spending_limits (
    key text COLLATE "C" NOT NULL,
    replaces text COLLATE "C",
    void boolean NOT NULL,
    who text COLLATE "C" NOT NULL,
    why text COLLATE "C" NOT NULL,
    plant text COLLATE "C" NOT NULL,
    name text COLLATE "C" NOT NULL,
    kind text COLLATE "C" NOT NULL,
    from_day text COLLATE "C" NOT NULL,
    until_day text COLLATE "C" NOT NULL,
    amount double precision,
    currency text COLLATE "C" NOT NULL,
    volume_l15 double precision,
    digest text COLLATE "C" NOT NULL,
    recorded_ms bigint NOT NULL,
    position bigint NOT NULL
);

ALTER TABLE spending_limits ADD CONSTRAINT spending_limits_pkey PRIMARY KEY (key);

ALTER TABLE spending_limits ADD CONSTRAINT spending_limits_replaces_fkey FOREIGN KEY (replaces) REFERENCES spending_limits(key) DEFERRABLE INITIALLY DEFERRED;

CREATE INDEX spending_limits_identity ON public.spending_limits USING btree (plant, name, from_day);

CREATE UNIQUE INDEX spending_limits_position ON public.spending_limits USING btree ("position");

CREATE UNIQUE INDEX spending_limits_replaces ON public.spending_limits USING btree (replaces) WHERE (replaces IS NOT NULL);

CREATE TRIGGER spending_limits_stay BEFORE DELETE OR UPDATE OR TRUNCATE ON public.spending_limits FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

CREATE VIEW spending_limits_in_force (
    plant text COLLATE "C",
    plant_name text COLLATE "C",
    limit_name text COLLATE "C",
    kind text COLLATE "C",
    from_day date,
    until_day date,
    amount double precision,
    currency text COLLATE "C",
    volume_l15 double precision,
    key text COLLATE "C",
    who text COLLATE "C",
    why text COLLATE "C",
    recorded timestamp with time zone
);

CREATE TABLE tanks (
    key text COLLATE "C" NOT NULL,
    replaces text COLLATE "C",
    void boolean NOT NULL,
    who text COLLATE "C" NOT NULL,
    why text COLLATE "C" NOT NULL,
    plant text COLLATE "C" NOT NULL,
    id text COLLATE "C" NOT NULL,
    role text COLLATE "C" NOT NULL,
    product text COLLATE "C" NOT NULL,
    shape text COLLATE "C" NOT NULL,
    diameter_mm double precision,
    length_mm double precision,
    width_mm double precision,
    height_mm double precision,
    capacity_l double precision,
    safe_fill_depth_mm double precision,
    safe_fill_l double precision,
    suction_depth_mm double precision,
    unusable_l double precision,
    out_from text COLLATE "C",
    back_on text COLLATE "C",
    digest text COLLATE "C" NOT NULL,
    recorded_ms bigint NOT NULL,
    fill_start_l double precision,
    fill_stop_l double precision,
    low_level_l double precision,
    fill_minutes double precision,
    own_share double precision,
    position bigint NOT NULL,
    reference_height_mm double precision
);

ALTER TABLE tanks ADD CONSTRAINT tanks_pkey PRIMARY KEY (key);

ALTER TABLE tanks ADD CONSTRAINT tanks_replaces_fkey FOREIGN KEY (replaces) REFERENCES tanks(key) DEFERRABLE INITIALLY DEFERRED;

CREATE INDEX tanks_identity ON public.tanks USING btree (plant, id);

CREATE UNIQUE INDEX tanks_position ON public.tanks USING btree ("position");

CREATE UNIQUE INDEX tanks_replaces ON public.tanks USING btree (replaces) WHERE (replaces IS NOT NULL);

CREATE TRIGGER tanks_stay BEFORE DELETE OR UPDATE OR TRUNCATE ON public.tanks FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

CREATE VIEW tanks_in_force (
    plant text COLLATE "C",
    plant_name text COLLATE "C",
    tank text COLLATE "C",
    role text COLLATE "C",
    product text COLLATE "C",
    shape text COLLATE "C",
    diameter_mm double precision,
    length_mm double precision,
    width_mm double precision,
    height_mm double precision,
    capacity_l double precision,
    safe_fill_depth_mm double precision,
    safe_fill_l double precision,
    suction_depth_mm double precision,
    unusable_l double precision,
    out_from date,
    back_on date,
    key text COLLATE "C",
    who text COLLATE "C",
    why text COLLATE "C",
    recorded timestamp with time zone
);

CREATE TABLE transfers (
    key text COLLATE "C" NOT NULL,
    replaces text COLLATE "C",
    void boolean NOT NULL,
    who text COLLATE "C" NOT NULL,
    why text COLLATE "C" NOT NULL,
    plant text COLLATE "C" NOT NULL,
    from_tank text COLLATE "C" NOT NULL,
    to_tank text COLLATE "C" NOT NULL,
    at_ms bigint NOT NULL,
    volume_l double precision NOT NULL,
    temperature_c double precision,
    basis text COLLATE "C" NOT NULL,
    digest text COLLATE "C" NOT NULL,
    recorded_ms bigint NOT NULL,
    open boolean NOT NULL,
    planned_stop_ms bigint,
    position bigint NOT NULL
);

ALTER TABLE transfers ADD CONSTRAINT transfers_pkey PRIMARY KEY (key);

ALTER TABLE transfers ADD CONSTRAINT transfers_replaces_fkey FOREIGN KEY (replaces) REFERENCES transfers(key) DEFERRABLE INITIALLY DEFERRED;

CREATE UNIQUE INDEX transfers_position ON public.transfers USING btree ("position");

CREATE UNIQUE INDEX transfers_replaces ON public.transfers USING btree (replaces) WHERE (replaces IS NOT NULL);

CREATE INDEX transfers_time ON public.transfers USING btree (plant, at_ms, key);

CREATE TRIGGER transfers_stay BEFORE DELETE OR UPDATE OR TRUNCATE ON public.transfers FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

CREATE VIEW transfers_in_force (
    plant text COLLATE "C",
    plant_name text COLLATE "C",
    from_tank text COLLATE "C",
    to_tank text COLLATE "C",
    at timestamp with time zone,
    at_plant timestamp without time zone,
    volume_l double precision,
    temperature_c double precision,
    basis text COLLATE "C",
    key text COLLATE "C",
    who text COLLATE "C",
    why text COLLATE "C",
    recorded timestamp with time zone
);

CREATE TABLE window_limits (
    key text COLLATE "C" NOT NULL,
    replaces text COLLATE "C",
    void boolean NOT NULL,
    who text COLLATE "C" NOT NULL,
    why text COLLATE "C" NOT NULL,
    route text COLLATE "C" NOT NULL,
    name text COLLATE "C" NOT NULL,
    from_day text COLLATE "C" NOT NULL,
    until_day text COLLATE "C" NOT NULL,
    lot_max_l15 double precision NOT NULL,
    cause text COLLATE "C" NOT NULL,
    note text COLLATE "C" NOT NULL,
    digest text COLLATE "C" NOT NULL,
    recorded_ms bigint NOT NULL,
    position bigint NOT NULL
);

ALTER TABLE window_limits ADD CONSTRAINT window_limits_pkey PRIMARY KEY (key);

ALTER TABLE window_limits ADD CONSTRAINT window_limits_replaces_fkey FOREIGN KEY (replaces) REFERENCES window_limits(key) DEFERRABLE INITIALLY DEFERRED;

CREATE INDEX window_limits_identity ON public.window_limits USING btree (route, name, from_day, cause);

CREATE UNIQUE INDEX window_limits_position ON public.window_limits USING btree ("position");

CREATE UNIQUE INDEX window_limits_replaces ON public.window_limits USING btree (replaces) WHERE (replaces IS NOT NULL);

CREATE TRIGGER window_limits_stay BEFORE DELETE OR UPDATE OR TRUNCATE ON public.window_limits FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

CREATE VIEW window_limits_in_force (
    route text COLLATE "C",
    window_name text COLLATE "C",
    from_day text COLLATE "C",
    until_day text COLLATE "C",
    lot_max_l15 double precision,
    cause text COLLATE "C",
    note text COLLATE "C",
    key text COLLATE "C",
    who text COLLATE "C",
    why text COLLATE "C",
    recorded timestamp with time zone
);

CREATE TABLE windows (
    key text COLLATE "C" NOT NULL,
    replaces text COLLATE "C",
    void boolean NOT NULL,
    who text COLLATE "C" NOT NULL,
    why text COLLATE "C" NOT NULL,
    route text COLLATE "C" NOT NULL,
    name text COLLATE "C" NOT NULL,
    year bigint NOT NULL,
    opens text COLLATE "C" NOT NULL,
    opens_sd_days double precision NOT NULL,
    closes text COLLATE "C" NOT NULL,
    closes_sd_days double precision NOT NULL,
    fail_chance double precision NOT NULL,
    order_by text COLLATE "C",
    digest text COLLATE "C" NOT NULL,
    recorded_ms bigint NOT NULL,
    position bigint NOT NULL,
    opens_lag_days double precision NOT NULL,
    opens_lag_sd_days double precision NOT NULL,
    closes_lag_days double precision NOT NULL,
    closes_lag_sd_days double precision NOT NULL,
    cut_off text COLLATE "C"
);

ALTER TABLE windows ADD CONSTRAINT windows_pkey PRIMARY KEY (key);

ALTER TABLE windows ADD CONSTRAINT windows_replaces_fkey FOREIGN KEY (replaces) REFERENCES windows(key) DEFERRABLE INITIALLY DEFERRED;

CREATE INDEX windows_identity ON public.windows USING btree (route, name, year);

CREATE UNIQUE INDEX windows_position ON public.windows USING btree ("position");

CREATE UNIQUE INDEX windows_replaces ON public.windows USING btree (replaces) WHERE (replaces IS NOT NULL);

CREATE TRIGGER windows_stay BEFORE DELETE OR UPDATE OR TRUNCATE ON public.windows FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

CREATE VIEW windows_in_force (
    route text COLLATE "C",
    window_name text COLLATE "C",
    year bigint,
    opens text COLLATE "C",
    opens_sd_days double precision,
    closes text COLLATE "C",
    closes_sd_days double precision,
    fail_chance double precision,
    order_by text COLLATE "C",
    key text COLLATE "C",
    who text COLLATE "C",
    why text COLLATE "C",
    recorded timestamp with time zone,
    opens_lag_days double precision,
    opens_lag_sd_days double precision,
    closes_lag_days double precision,
    closes_lag_sd_days double precision,
    cut_off text COLLATE "C"
);
