using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace ShopFloor.Data.Migrations
{
    /// <inheritdoc />
    public partial class DataAndMail : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<long>(
                name: "DeadAt",
                table: "Outbox",
                type: "INTEGER",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "Key",
                table: "Outbox",
                type: "TEXT",
                nullable: false,
                defaultValue: "");

            migrationBuilder.AddColumn<Guid>(
                name: "Order",
                table: "Outbox",
                type: "TEXT",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "Subject",
                table: "Outbox",
                type: "TEXT",
                nullable: false,
                defaultValue: "");

            migrationBuilder.AddColumn<Guid>(
                name: "Target",
                table: "Outbox",
                type: "TEXT",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "Charges",
                table: "Orders",
                type: "TEXT",
                nullable: false,
                defaultValueSql: "'[]'");

            migrationBuilder.AddColumn<string>(
                name: "ExternalId",
                table: "Orders",
                type: "TEXT",
                nullable: false,
                defaultValue: "");

            migrationBuilder.AddColumn<string>(
                name: "ExternalId",
                table: "Customers",
                type: "TEXT",
                nullable: false,
                defaultValue: "");

            migrationBuilder.CreateTable(
                name: "AccessKeys",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    Name = table.Column<string>(type: "TEXT", nullable: false),
                    Hash = table.Column<string>(type: "TEXT", nullable: false),
                    Scopes = table.Column<string>(type: "TEXT", nullable: false),
                    Worker = table.Column<Guid>(type: "TEXT", nullable: false),
                    MadeAt = table.Column<long>(type: "INTEGER", nullable: false),
                    UsedAt = table.Column<long>(type: "INTEGER", nullable: true),
                    RevokedAt = table.Column<long>(type: "INTEGER", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_AccessKeys", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "Complaints",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    Order = table.Column<Guid>(type: "TEXT", nullable: false),
                    Pieces = table.Column<string>(type: "TEXT", nullable: false),
                    Words = table.Column<string>(type: "TEXT", nullable: false),
                    At = table.Column<long>(type: "INTEGER", nullable: false),
                    By = table.Column<string>(type: "TEXT", nullable: false),
                    State = table.Column<string>(type: "TEXT", maxLength: 40, nullable: false),
                    Answer = table.Column<string>(type: "TEXT", nullable: false),
                    DecidedAt = table.Column<long>(type: "INTEGER", nullable: true),
                    Remake = table.Column<Guid>(type: "TEXT", nullable: true),
                    CreditNote = table.Column<Guid>(type: "TEXT", nullable: true),
                    Version = table.Column<int>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Complaints", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "Erasures",
                columns: table => new
                {
                    Customer = table.Column<Guid>(type: "TEXT", nullable: false),
                    At = table.Column<long>(type: "INTEGER", nullable: false),
                    By = table.Column<string>(type: "TEXT", nullable: false),
                    DocumentsUntil = table.Column<DateOnly>(type: "TEXT", nullable: true),
                    DocumentsGoneAt = table.Column<long>(type: "INTEGER", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Erasures", x => x.Customer);
                });

            migrationBuilder.CreateTable(
                name: "SecurityEvents",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    At = table.Column<long>(type: "INTEGER", nullable: false),
                    What = table.Column<string>(type: "TEXT", nullable: false),
                    By = table.Column<string>(type: "TEXT", nullable: false),
                    Subject = table.Column<string>(type: "TEXT", nullable: false),
                    IsGood = table.Column<bool>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_SecurityEvents", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "Webhooks",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    Url = table.Column<string>(type: "TEXT", nullable: false),
                    Events = table.Column<string>(type: "TEXT", nullable: false),
                    Secret = table.Column<string>(type: "TEXT", nullable: false),
                    OldSecret = table.Column<string>(type: "TEXT", nullable: false),
                    OldUntil = table.Column<long>(type: "INTEGER", nullable: true),
                    IsActive = table.Column<bool>(type: "INTEGER", nullable: false),
                    MadeAt = table.Column<long>(type: "INTEGER", nullable: false),
                    Version = table.Column<int>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Webhooks", x => x.Id);
                });

            migrationBuilder.CreateIndex(
                name: "IX_Outbox_Key",
                table: "Outbox",
                column: "Key",
                unique: true,
                filter: "\"Key\" <> ''");

            migrationBuilder.CreateIndex(
                name: "IX_Outbox_Order",
                table: "Outbox",
                column: "Order");

            migrationBuilder.CreateIndex(
                name: "IX_Orders_ExternalId",
                table: "Orders",
                column: "ExternalId",
                unique: true,
                filter: "\"ExternalId\" <> ''");

            migrationBuilder.CreateIndex(
                name: "IX_Customers_ExternalId",
                table: "Customers",
                column: "ExternalId",
                unique: true,
                filter: "\"ExternalId\" <> ''");

            migrationBuilder.CreateIndex(
                name: "IX_AccessKeys_Hash",
                table: "AccessKeys",
                column: "Hash",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_Complaints_Order",
                table: "Complaints",
                column: "Order");

            migrationBuilder.CreateIndex(
                name: "IX_Complaints_State",
                table: "Complaints",
                column: "State");

            migrationBuilder.CreateIndex(
                name: "IX_SecurityEvents_At",
                table: "SecurityEvents",
                column: "At");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "AccessKeys");

            migrationBuilder.DropTable(
                name: "Complaints");

            migrationBuilder.DropTable(
                name: "Erasures");

            migrationBuilder.DropTable(
                name: "SecurityEvents");

            migrationBuilder.DropTable(
                name: "Webhooks");

            migrationBuilder.DropIndex(
                name: "IX_Outbox_Key",
                table: "Outbox");

            migrationBuilder.DropIndex(
                name: "IX_Outbox_Order",
                table: "Outbox");

            migrationBuilder.DropIndex(
                name: "IX_Orders_ExternalId",
                table: "Orders");

            migrationBuilder.DropIndex(
                name: "IX_Customers_ExternalId",
                table: "Customers");

            migrationBuilder.DropColumn(
                name: "DeadAt",
                table: "Outbox");

            migrationBuilder.DropColumn(
                name: "Key",
                table: "Outbox");

            migrationBuilder.DropColumn(
                name: "Order",
                table: "Outbox");

            migrationBuilder.DropColumn(
                name: "Subject",
                table: "Outbox");

            migrationBuilder.DropColumn(
                name: "Target",
                table: "Outbox");

            migrationBuilder.DropColumn(
                name: "Charges",
                table: "Orders");

            migrationBuilder.DropColumn(
                name: "ExternalId",
                table: "Orders");

            migrationBuilder.DropColumn(
                name: "ExternalId",
                table: "Customers");
        }
    }
}
