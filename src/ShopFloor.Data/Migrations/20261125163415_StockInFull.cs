using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace ShopFloor.Data.Migrations
{
    /// <inheritdoc />
    public partial class StockInFull : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<Guid>(
                name: "Command",
                table: "StockMoves",
                type: "TEXT",
                nullable: false,
                defaultValue: new Guid("00000000-0000-0000-0000-000000000000"));

            migrationBuilder.AddColumn<string>(
                name: "Note",
                table: "StockMoves",
                type: "TEXT",
                nullable: false,
                defaultValue: "");

            migrationBuilder.AddColumn<int>(
                name: "LeadDays",
                table: "StockItems",
                type: "INTEGER",
                nullable: false,
                defaultValue: 5);

            migrationBuilder.AddColumn<string>(
                name: "PaperSize",
                table: "StockItems",
                type: "TEXT",
                nullable: false,
                defaultValue: "");

            migrationBuilder.AddColumn<decimal>(
                name: "UsedEach",
                table: "StockItems",
                type: "TEXT",
                nullable: false,
                defaultValue: 1m);

            // Items kept before: a piece takes about 20 cm of a roll of 33 m, and the one paper there was is A4.
            migrationBuilder.Sql("UPDATE StockItems SET UsedEach = '0.006' WHERE Kind = 'tape'");
            migrationBuilder.Sql("UPDATE StockItems SET PaperSize = 'A4' WHERE Kind = 'paper'");

            migrationBuilder.CreateTable(
                name: "SafetySheets",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    Coating = table.Column<Guid>(type: "TEXT", nullable: false),
                    Lot = table.Column<string>(type: "TEXT", nullable: false),
                    Name = table.Column<string>(type: "TEXT", nullable: false),
                    Content = table.Column<byte[]>(type: "BLOB", nullable: false),
                    At = table.Column<long>(type: "INTEGER", nullable: false),
                    By = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_SafetySheets", x => x.Id);
                    table.ForeignKey(
                        name: "FK_SafetySheets_Coatings_Coating",
                        column: x => x.Coating,
                        principalTable: "Coatings",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateIndex(
                name: "IX_StockMoves_Command",
                table: "StockMoves",
                column: "Command");

            migrationBuilder.CreateIndex(
                name: "IX_StockMoves_Item",
                table: "StockMoves",
                column: "Item");

            migrationBuilder.CreateIndex(
                name: "IX_SafetySheets_Coating_Lot",
                table: "SafetySheets",
                columns: new[] { "Coating", "Lot" },
                unique: true);
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "SafetySheets");

            migrationBuilder.DropIndex(
                name: "IX_StockMoves_Command",
                table: "StockMoves");

            migrationBuilder.DropIndex(
                name: "IX_StockMoves_Item",
                table: "StockMoves");

            migrationBuilder.DropColumn(
                name: "Command",
                table: "StockMoves");

            migrationBuilder.DropColumn(
                name: "Note",
                table: "StockMoves");

            migrationBuilder.DropColumn(
                name: "LeadDays",
                table: "StockItems");

            migrationBuilder.DropColumn(
                name: "PaperSize",
                table: "StockItems");

            migrationBuilder.DropColumn(
                name: "UsedEach",
                table: "StockItems");
        }
    }
}
