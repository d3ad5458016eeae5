-- A ledger row stays as it was written, whoever opens the database.

-- +goose Up
-- +goose StatementBegin
CREATE FUNCTION refuse_change() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    RAISE EXCEPTION 'rows of % are never changed and never deleted', TG_TABLE_NAME;
END
$$;
-- +goose StatementEnd
CREATE TRIGGER plants_stay BEFORE UPDATE OR DELETE OR TRUNCATE ON plants EXECUTE FUNCTION refuse_change();
CREATE TRIGGER routes_stay BEFORE UPDATE OR DELETE OR TRUNCATE ON routes EXECUTE FUNCTION refuse_change();
CREATE TRIGGER services_stay BEFORE UPDATE OR DELETE OR TRUNCATE ON services EXECUTE FUNCTION refuse_change();
CREATE TRIGGER windows_stay BEFORE UPDATE OR DELETE OR TRUNCATE ON windows EXECUTE FUNCTION refuse_change();
CREATE TRIGGER tanks_stay BEFORE UPDATE OR DELETE OR TRUNCATE ON tanks EXECUTE FUNCTION refuse_change();
CREATE TRIGGER capacity_points_stay BEFORE UPDATE OR DELETE OR TRUNCATE ON capacity_points EXECUTE FUNCTION refuse_change();
CREATE TRIGGER meters_stay BEFORE UPDATE OR DELETE OR TRUNCATE ON meters EXECUTE FUNCTION refuse_change();
CREATE TRIGGER meter_readings_stay BEFORE UPDATE OR DELETE OR TRUNCATE ON meter_readings EXECUTE FUNCTION refuse_change();
CREATE TRIGGER meter_swaps_stay BEFORE UPDATE OR DELETE OR TRUNCATE ON meter_swaps EXECUTE FUNCTION refuse_change();
CREATE TRIGGER gaugings_stay BEFORE UPDATE OR DELETE OR TRUNCATE ON gaugings EXECUTE FUNCTION refuse_change();
CREATE TRIGGER period_totals_stay BEFORE UPDATE OR DELETE OR TRUNCATE ON period_totals EXECUTE FUNCTION refuse_change();
CREATE TRIGGER deliveries_stay BEFORE UPDATE OR DELETE OR TRUNCATE ON deliveries EXECUTE FUNCTION refuse_change();
CREATE TRIGGER transfers_stay BEFORE UPDATE OR DELETE OR TRUNCATE ON transfers EXECUTE FUNCTION refuse_change();
CREATE TRIGGER draws_stay BEFORE UPDATE OR DELETE OR TRUNCATE ON draws EXECUTE FUNCTION refuse_change();
CREATE TRIGGER orders_stay BEFORE UPDATE OR DELETE OR TRUNCATE ON orders EXECUTE FUNCTION refuse_change();

-- +goose Down
DROP TRIGGER orders_stay ON orders;
DROP TRIGGER draws_stay ON draws;
DROP TRIGGER transfers_stay ON transfers;
DROP TRIGGER deliveries_stay ON deliveries;
DROP TRIGGER period_totals_stay ON period_totals;
DROP TRIGGER gaugings_stay ON gaugings;
DROP TRIGGER meter_swaps_stay ON meter_swaps;
DROP TRIGGER meter_readings_stay ON meter_readings;
DROP TRIGGER meters_stay ON meters;
DROP TRIGGER capacity_points_stay ON capacity_points;
DROP TRIGGER tanks_stay ON tanks;
DROP TRIGGER windows_stay ON windows;
DROP TRIGGER services_stay ON services;
DROP TRIGGER routes_stay ON routes;
DROP TRIGGER plants_stay ON plants;
DROP FUNCTION refuse_change();
