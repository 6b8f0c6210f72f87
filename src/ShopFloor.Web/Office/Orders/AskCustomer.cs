using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Web.Background.Sending;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Live;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Orders;

/// <summary>A question to the customer of an order.</summary>
public sealed record CustomerQuestion(int Order, string Text);

/// <summary>Asks a customer something; the question stands on the order's own page until it is answered.</summary>
public sealed class AskCustomer(CommandRunner runner) : IUseCase
{
    /// <summary>Asks.</summary>
    public Task<Result<Done>> RunAsync(Asked asked, CustomerQuestion question, CancellationToken cancel = default) =>
        runner.RunAsync<CustomerQuestion, Done>(
            nameof(AskCustomer),
            Allowed.Owner,
            asked,
            question,
            work => DecideAsync(work, question, cancel),
            cancel
        );

    private static async Task<Result<Done>> DecideAsync(CommandWork work, CustomerQuestion question, CancellationToken cancel)
    {
        if (await work.Context.Orders.FirstOrDefaultAsync(o => o.Number == question.Order, cancel) is not { } order)
            return new Refusal("order-missing", "This order is no longer there.");
        work.Touch(Topic.Order, order.Id.Value);
        var asked = order.Ask(question.Text, work.Now);
        if (asked.IsOk)
            await QuestionMail.ToCustomerAsync(work, order, cancel);
        return asked;
    }
}

/// <summary>Reads what was asked and answered.</summary>
public sealed class QuestionView(IDbContextFactory<ShopContext> contexts, TimeProvider time) : IPageView
{
    /// <summary>The questions of an order, in the order asked, and whether the customer gets a further one by mail.</summary>
    public async Task<(IReadOnlyList<OrderQuestion> Questions, bool Mailed)> LoadAsync(int number, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        if (await context.Orders.AsNoTracking().FirstOrDefaultAsync(o => o.Number == number, cancel) is not { } order)
            return ([], false);
        var settings = await CurrentSettings.LoadAsync(context, time.GetUtcNow(), cancel);
        return (order.Questions, QuestionMail.IsMailed(order, settings));
    }
}
