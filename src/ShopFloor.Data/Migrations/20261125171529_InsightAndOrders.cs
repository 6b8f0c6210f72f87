using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace ShopFloor.Data.Migrations
{
    /// <inheritdoc />
    public partial class InsightAndOrders : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropIndex(
                name: "IX_Pieces_Order",
                table: "Pieces");

            migrationBuilder.DropIndex(
                name: "IX_Pieces_State",
                table: "Pieces");

            migrationBuilder.CreateIndex(
                name: "IX_WorkItems_FinishedAt",
                table: "WorkItems",
                column: "FinishedAt");

            migrationBuilder.CreateIndex(
                name: "IX_WorkItems_StartedAt",
                table: "WorkItems",
                column: "StartedAt");

            migrationBuilder.CreateIndex(
                name: "IX_Pieces_Order_State",
                table: "Pieces",
                columns: new[] { "Order", "State" });

            migrationBuilder.CreateIndex(
                name: "IX_Pieces_State_ChangedAt",
                table: "Pieces",
                columns: new[] { "State", "ChangedAt" });

            migrationBuilder.CreateIndex(
                name: "IX_Pieces_State_Order",
                table: "Pieces",
                columns: new[] { "State", "Order" });

            migrationBuilder.CreateIndex(
                name: "IX_Journal_At",
                table: "Journal",
                column: "At");

            // The model cannot name a member of a complex property in an index, so it is made here: the list is sorted by it.
            migrationBuilder.Sql("CREATE INDEX IX_Orders_ContactName ON Orders (ContactName COLLATE NOCASE, Number)");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.Sql("DROP INDEX IX_Orders_ContactName");

            migrationBuilder.DropIndex(
                name: "IX_WorkItems_FinishedAt",
                table: "WorkItems");

            migrationBuilder.DropIndex(
                name: "IX_WorkItems_StartedAt",
                table: "WorkItems");

            migrationBuilder.DropIndex(
                name: "IX_Pieces_Order_State",
                table: "Pieces");

            migrationBuilder.DropIndex(
                name: "IX_Pieces_State_ChangedAt",
                table: "Pieces");

            migrationBuilder.DropIndex(
                name: "IX_Pieces_State_Order",
                table: "Pieces");

            migrationBuilder.DropIndex(
                name: "IX_Journal_At",
                table: "Journal");

            migrationBuilder.CreateIndex(
                name: "IX_Pieces_Order",
                table: "Pieces",
                column: "Order");

            migrationBuilder.CreateIndex(
                name: "IX_Pieces_State",
                table: "Pieces",
                column: "State");
        }
    }
}
