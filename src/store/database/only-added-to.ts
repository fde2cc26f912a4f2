/** A table of which no line is ever changed or deleted. */
export interface OnlyAddedTo {
  onlyAddedTo: string;
}

/** Triggers by which SQLite refuses to change or delete a line. PostgreSQL has its own. */
export const onlyAddedToSql = ({ onlyAddedTo: table }: OnlyAddedTo): string => `
  CREATE TRIGGER ${table}_is_not_changed BEFORE UPDATE ON ${table}
    BEGIN SELECT RAISE(ABORT, 'only added to'); END;
  CREATE TRIGGER ${table}_is_not_shortened BEFORE DELETE ON ${table}
    BEGIN SELECT RAISE(ABORT, 'only added to'); END;
  CREATE TRIGGER ${table}_is_not_replaced BEFORE INSERT ON ${table}
    WHEN EXISTS (SELECT 1 FROM ${table} WHERE no = NEW.no)
    BEGIN SELECT RAISE(ABORT, 'only added to'); END;
`;
