using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace ShopFloor.Data.Migrations
{
    /// <inheritdoc />
    public partial class TestsAndCalls : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<bool>(
                name: "IsTest",
                table: "Pieces",
                type: "INTEGER",
                nullable: false,
                defaultValue: false);

            migrationBuilder.CreateTable(
                name: "Calls",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    Key = table.Column<string>(type: "TEXT", nullable: false),
                    Rule = table.Column<string>(type: "TEXT", nullable: false),
                    Subject = table.Column<string>(type: "TEXT", nullable: false),
                    Source = table.Column<string>(type: "TEXT", nullable: false),
                    Priority = table.Column<int>(type: "INTEGER", nullable: false),
                    RaisedAt = table.Column<long>(type: "INTEGER", nullable: false),
                    SeenAt = table.Column<long>(type: "INTEGER", nullable: true),
                    SeenBy = table.Column<string>(type: "TEXT", nullable: true),
                    PutOffUntil = table.Column<long>(type: "INTEGER", nullable: true),
                    Reason = table.Column<string>(type: "TEXT", nullable: true),
                    ClearedAt = table.Column<long>(type: "INTEGER", nullable: true),
                    Returns = table.Column<int>(type: "INTEGER", nullable: false),
                    Version = table.Column<int>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Calls", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "MaterialTests",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    Material = table.Column<string>(type: "TEXT", nullable: false),
                    Form = table.Column<string>(type: "TEXT", maxLength: 40, nullable: false),
                    CureCelsius = table.Column<double>(type: "REAL", nullable: true),
                    PressCelsius = table.Column<double>(type: "REAL", nullable: true),
                    Outcome = table.Column<string>(type: "TEXT", maxLength: 40, nullable: false),
                    Note = table.Column<string>(type: "TEXT", nullable: false),
                    Piece = table.Column<string>(type: "TEXT", nullable: false),
                    At = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_MaterialTests", x => x.Id);
                });

            migrationBuilder.CreateIndex(
                name: "IX_WorkItems_Kind_FinishedAt",
                table: "WorkItems",
                columns: new[] { "Kind", "FinishedAt" });

            migrationBuilder.CreateIndex(
                name: "IX_Calls_ClearedAt",
                table: "Calls",
                column: "ClearedAt");

            migrationBuilder.CreateIndex(
                name: "IX_Calls_RaisedAt",
                table: "Calls",
                column: "RaisedAt");

            migrationBuilder.CreateIndex(
                name: "IX_MaterialTests_Material",
                table: "MaterialTests",
                column: "Material");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "Calls");

            migrationBuilder.DropTable(
                name: "MaterialTests");

            migrationBuilder.DropIndex(
                name: "IX_WorkItems_Kind_FinishedAt",
                table: "WorkItems");

            migrationBuilder.DropColumn(
                name: "IsTest",
                table: "Pieces");
        }
    }
}
