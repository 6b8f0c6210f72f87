using ShopFloor.Domain;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Documents;

namespace ShopFloor.Web.Office.Orders;

/// <summary>Which letter was printed.</summary>
public sealed record LetterWish(int Order, OrderLetterKind Kind);

/// <summary>Writes down that a letter about an order was printed, in the journal of all prints.</summary>
public sealed class PrintLetter(CommandRunner runner) : IUseCase
{
    /// <summary>Does it.</summary>
    public Task<Result<Printed>> RunAsync(Asked asked, LetterWish wish, CancellationToken cancel = default) =>
        runner.RunAsync<LetterWish, Printed>(
            nameof(PrintLetter),
            Allowed.Owner,
            asked,
            wish,
            async work =>
                await PrintPaper.WriteDownAsync(work, string.Create(CultureInfo.InvariantCulture, $"{wish.Kind} {wish.Order}"), cancel),
            cancel
        );
}
